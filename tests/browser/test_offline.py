"""A first visit, a lost signal, a damaged store and a new version, on a small site that our own list is written for."""

import gzip
import threading

import pytest
from playwright.sync_api import expect

from site_builder.building.offline import FIRST_AID
from site_builder.building.policy import CONTENT_SECURITY_POLICY
from tests.browser.phones import NO_SERVICE_WORKER
from tests.browser.small_site import (
    ALL_SAVED,
    ENGINE,
    FIRST_FILE,
    LOADER,
    LOADER_TEXT,
    PAGES,
    SPARE,
    STORE,
    STORED_FILES,
    WAITS,
    WORKER,
    Host,
    ShorteningHost,
    damage,
    empty_the_browsers_own_cache,
    hashes,
    heading,
    lose,
    lose_the_signal,
    make_site,
    new_version_of_voltages,
    page_html,
    run_card,
    sent,
    write,
)


def test_a_first_visit_fetches_each_file_once(saved_page, host, files):
    expect(saved_page.locator("#engine-state")).to_have_text("Engine: 307200 bytes")
    assert WORKER in host.asked
    assert sorted(host.asked_since(0)) == sent(files)


# What a page that is loaded anew at a first visit may come upon: the install that the page before began is over, and nothing is active yet.
INSTALLED_BY_THE_PAGE_BEFORE = """{
  const parts = ServiceWorkerRegistration.prototype;
  const { get: installing } = Object.getOwnPropertyDescriptor(parts, "installing");
  const { get: waiting } = Object.getOwnPropertyDescriptor(parts, "waiting");
  Object.defineProperty(parts, "installing", { get: () => null });
  Object.defineProperty(parts, "waiting", { get() { return installing.call(this) ?? waiting.call(this); } });
}"""


def test_a_page_that_comes_between_install_and_activation_has_the_rest_saved(page, host):
    page.add_init_script(INSTALLED_BY_THE_PAGE_BEFORE)
    page.goto(host.address)
    expect(page.locator("#offline-state")).to_have_text(ALL_SAVED)


def test_what_travels_packed_is_answered_unpacked_with_its_own_type(saved_page, host):
    lose_the_signal(host, saved_page)
    found = saved_page.evaluate(f"fetch('{LOADER}').then(async r => [r.headers.get('content-type'), await r.text()])")
    assert found == ["text/javascript; charset=utf-8", LOADER_TEXT]
    assert saved_page.evaluate(f"import(new URL('{LOADER}', document.baseURI)).then(m => m.loads)")


def test_a_browser_that_cannot_unpack_fetches_the_same_as_it_is(page, host, files):
    worker = host.folder / WORKER
    write(worker, f"delete self.DecompressionStream;\n{worker.read_text()}")
    page.goto(host.address)
    expect(page.locator("#offline-state")).to_have_text(ALL_SAVED)
    assert sorted(host.asked_since(0)) == sorted(files.keys() - set(FIRST_AID))
    lose_the_signal(host, page)
    assert page.evaluate(f"fetch('{LOADER}').then(r => r.text())") == LOADER_TEXT


@pytest.mark.parametrize("spoilt", [b"this is not gzip", gzip.compress(b"another loader")], ids=["no gzip", "another content"])
def test_a_packed_file_that_is_wrong_gives_way_to_the_plain_one(page, host, spoilt):
    packed = (host.folder / f"{LOADER}.gz").read_bytes()
    host.faults[f"{LOADER}.gz"] = lambda: spoilt.ljust(len(packed), b"\0")
    page.goto(host.address)
    expect(page.locator("#offline-state")).to_have_text(ALL_SAVED)
    lose_the_signal(host, page)
    assert page.evaluate(f"fetch('{LOADER}').then(r => r.text())") == LOADER_TEXT


@pytest.mark.parametrize("path", ["pack-in-trouble.html", "safety-rules.html"])
def test_what_helps_against_a_fire_opens_with_no_signal_when_nothing_else_has_come(page, host, path):
    host.faults["voltages.html"] = host.loses_its_signal
    page.goto(host.address)
    expect(page.locator("#offline-state")).to_contain_text("The signal was lost.")
    empty_the_browsers_own_cache(page)
    page.goto(host.address + path)
    expect(heading(page)).to_have_text(PAGES[path])
    assert page.evaluate("getComputedStyle(document.querySelector('main')).fontSize") == "19.2px"
    expect(page.locator("#offline-state")).to_contain_text("Saving stopped at")


def test_progress_is_shown_in_megabytes_and_not_read_out_at_every_step(page, host):
    signal = threading.Event()
    host.faults[ENGINE] = lambda: signal.wait() and None
    page.goto(host.address)
    state = page.get_by_role("status").first
    expect(state).to_have_text("Saving to this phone: 0.3 MB of 0.6 MB, a quarter is here")
    expect(state.locator("[aria-live=off]")).to_have_text("0.3 MB of 0.6 MB")
    expect(page.locator("#engine-state")).to_be_empty()
    signal.set()
    expect(state).to_have_text(ALL_SAVED)


@pytest.mark.parametrize("host", ["", "/club/fieldslate/"], indirect=True, ids=["at the root", "below a path"])
def test_every_page_opens_and_reloads_with_no_signal(saved_page, host):
    lose_the_signal(host, saved_page)
    for path, title in PAGES.items():
        saved_page.goto(host.address + path)
        saved_page.reload()
        expect(heading(saved_page)).to_have_text(title)
        expect(saved_page.locator("#offline-state")).to_have_text(ALL_SAVED)
        expect(saved_page.locator("#engine-state")).to_have_text("Engine: 307200 bytes")


@pytest.mark.parametrize("address", ["", "./", "index.html", "voltages", "voltages.html?cells=6&capacity=2650+mAh", "%76oltages.html"])
def test_every_way_to_write_an_address_works_with_no_signal(saved_page, host, address):
    lose_the_signal(host, saved_page)
    saved_page.goto(host.address + address)
    expect(heading(saved_page)).to_have_text("Voltages" if "oltages" in address else "First page")


def test_after_the_first_visit_nothing_but_a_new_version_is_asked_for(saved_page, host):
    before = len(host.asked)
    for path in PAGES:
        saved_page.goto(host.address + path)
        expect(saved_page.locator("#engine-state")).to_have_text("Engine: 307200 bytes")
    assert host.asked_since(before) == []


def test_pages_from_the_phone_carry_the_policy_and_their_own_type(saved_page, host):
    lose_the_signal(host, saved_page)
    headers = saved_page.goto(host.address + "voltages.html").headers
    assert headers["content-security-policy"] == CONTENT_SECURITY_POLICY
    assert headers["content-type"] == "text/html; charset=utf-8"
    assert headers["x-content-type-options"] == "nosniff"


@pytest.mark.usefixtures("files")
def test_a_host_that_shortens_addresses_leaves_pages_that_open_with_no_signal(page, tmp_path):
    with ShorteningHost(tmp_path / "site") as host:
        page.goto(host.address)
        expect(page.locator("#offline-state")).to_have_text(ALL_SAVED)
        lose_the_signal(host, page)
        page.goto(host.address + "voltages.html")
        expect(heading(page)).to_have_text("Voltages")


def test_a_first_visit_that_lost_the_signal_goes_on_at_the_next_with_the_rest_only(page, host, files, until):
    host.faults[SPARE] = host.loses_its_signal
    page.goto(host.address)
    expect(page.locator("#offline-state")).to_contain_text("The signal was lost. Saving goes on when it is back.")
    until(page, f"{STORED_FILES}.then(stored => stored === {len(files) - 1})")
    host.faults.clear()
    host.start()
    empty_the_browsers_own_cache(page)
    before = len(host.asked)
    page.goto(host.address + "voltages.html")
    expect(page.locator("#offline-state")).to_have_text(ALL_SAVED)
    assert host.asked_since(before) == [SPARE]


@pytest.mark.parametrize("back", ["window.dispatchEvent(new Event('online'))", "document.dispatchEvent(new Event('visibilitychange'))"])
def test_a_first_visit_that_lost_the_signal_goes_on_by_itself(page, host, back):
    host.faults[SPARE] = host.loses_its_signal
    page.goto(host.address)
    expect(page.locator("#offline-state")).to_contain_text("The signal was lost.")
    host.faults.clear()
    host.start()
    before = len(host.asked)
    page.evaluate(back)
    expect(page.locator("#offline-state")).to_have_text(ALL_SAVED)
    assert host.asked_since(before) == [SPARE]


@pytest.mark.parametrize("path", [WORKER, FIRST_FILE, SPARE])
def test_a_first_visit_that_lost_the_signal_is_tried_again_where_the_phone_does_not_say_that_it_is_back(page, host, path):
    page.clock.install()
    host.faults[path] = host.loses_its_signal
    page.goto(host.address)
    expect(page.locator("#offline-state")).to_contain_text("Saving stopped at")
    host.faults.clear()
    host.start()
    page.clock.fast_forward(30_000)
    expect(page.locator("#offline-state")).to_have_text(ALL_SAVED)
    expect(page.locator("#engine-state")).to_have_text("Engine: 307200 bytes")


def test_saving_that_the_browser_ended_without_a_word_is_taken_up_again(page, host):
    signal = threading.Event()
    host.faults[ENGINE] = lambda: signal.wait() and None
    versions = []
    tools = page.context.new_cdp_session(page)
    tools.on("ServiceWorker.workerVersionUpdated", lambda event: versions.extend(event["versions"]))
    tools.send("ServiceWorker.enable")
    page.clock.install()
    page.goto(host.address)
    expect(page.locator("#offline-state")).to_contain_text("0.3 MB of 0.6 MB")
    tools.send("ServiceWorker.stopWorker", {"versionId": versions[0]["versionId"]})
    host.faults.clear()
    signal.set()
    page.clock.fast_forward(5_000)
    expect(page.locator("#offline-state")).to_have_text(ALL_SAVED)


def test_a_wrong_file_is_not_kept_and_the_page_says_so_and_still_works_with_a_signal(page, host):
    host.faults["engine-1/library.zip"] = lambda: bytes(249_999) + b"1"
    page.goto(host.address)
    expect(page.locator("#offline-state")).to_contain_text("The host sent a wrong file (engine-1/library.zip).")
    expect(page.locator("#engine-state")).to_have_text("Engine: 307200 bytes")


def test_a_phone_without_room_is_told_how_much_to_free(page, host):
    tools = page.context.new_cdp_session(page)
    tools.send("Storage.overrideQuotaForOrigin", {"origin": host.address.rstrip("/"), "quotaSize": 100_000})
    page.goto(host.address)
    expect(page.locator("#offline-state")).to_contain_text("There is not enough room on this phone: free 1 MB")
    expect(page.locator("#engine-state")).to_have_text("Engine: 307200 bytes")


def test_a_browser_that_keeps_nothing_says_so_and_starts_the_engine(page, host):
    page.add_init_script(NO_SERVICE_WORKER)
    page.goto(host.address)
    expect(page.locator("#offline-state")).to_contain_text("This browser cannot keep Fieldslate")
    expect(page.locator("#engine-state")).to_have_text("Engine: 307200 bytes")


@pytest.mark.parametrize("spoil", [damage, lose])
def test_a_damaged_or_missing_page_is_put_right_when_it_is_opened(saved_page, host, files, spoil):
    spoil(saved_page, files["voltages.html"])
    before = len(host.asked)
    saved_page.goto(host.address + "voltages.html")
    expect(heading(saved_page)).to_have_text("Voltages")
    assert host.asked_since(before) == ["voltages.html"]
    lose_the_signal(host, saved_page)
    saved_page.reload()
    expect(heading(saved_page)).to_have_text("Voltages")


def test_a_visit_fetches_what_the_phone_has_lost(saved_page, host, files):
    lose(saved_page, files["engine-1/library.zip"])
    before = len(host.asked)
    saved_page.goto(host.address + "voltages.html")
    expect(saved_page.locator("#offline-state")).to_have_text(ALL_SAVED)
    assert host.asked_since(before) == ["engine-1/library.zip"]
    assert saved_page.evaluate(STORED_FILES) == len(files)


def test_mending_names_what_it_put_right_and_what_it_could_not(saved_page, host, files):
    damage(saved_page, files[ENGINE])
    damage(saved_page, files["voltages.html"])
    host.faults["voltages.html"] = lambda: 404
    assert saved_page.evaluate("mend()") == {"kind": "checked", "mended": [ENGINE], "missing": ["voltages.html"]}
    assert saved_page.evaluate("mend()") == {"kind": "checked", "mended": [], "missing": ["voltages.html"]}


@pytest.mark.parametrize("host", ["", "/club/fieldslate/"], indirect=True, ids=["at the root", "below a path"])
@pytest.mark.parametrize("path", ["voltages.html", "no/such/page.html"])
def test_a_page_that_cannot_be_had_leads_to_the_trouble_page(saved_page, host, files, axe, path):
    damage(saved_page, files["voltages.html"])
    lose_the_signal(host, saved_page)
    saved_page.goto(host.address + path)
    expect(heading(saved_page)).to_have_text("This page is not on this phone")
    assert axe(saved_page) == []
    saved_page.get_by_role("link", name="Pack in trouble").click()
    expect(heading(saved_page)).to_have_text("Pack in trouble")


def test_an_address_that_is_none_of_ours_goes_to_the_host(saved_page, host):
    before = len(host.asked)
    assert saved_page.goto(host.address + "no-such-page.html").status == 404
    assert "no-such-page.html" in host.asked_since(before)


def test_a_new_version_fetches_only_what_changed_and_waits_for_the_button(saved_page, host, files, until):
    before = len(host.asked)
    new_version_of_voltages(host, until, saved_page)
    assert host.asked_since(before) == ["voltages.html"]
    saved_page.goto(host.address + "voltages.html")
    expect(heading(saved_page)).to_have_text("Voltages")
    saved_page.get_by_role("button", name="Use the new version").click()
    expect(heading(saved_page)).to_have_text("Voltages, corrected")
    expect(saved_page.locator("#new-version")).to_be_hidden()
    until(saved_page, f"{STORE}.then(s => s.match('.stored/{files['voltages.html']}')).then(r => r === undefined)")
    until(saved_page, f"{STORED_FILES}.then(stored => stored === {len(files)})")
    lose_the_signal(host, saved_page)
    saved_page.reload()
    expect(heading(saved_page)).to_have_text("Voltages, corrected")


def test_a_new_version_is_not_offered_while_a_card_runs(saved_page, host, until):
    run_card(saved_page, running=True)
    new_version_of_voltages(host, until, saved_page)
    saved_page.reload()
    expect(saved_page.locator("#offline-state")).to_have_text(ALL_SAVED)
    expect(saved_page.locator("#new-version")).to_be_hidden()
    run_card(saved_page, running=False)
    expect(saved_page.locator("#new-version")).to_be_visible()


def test_a_card_in_another_tab_withdraws_the_offer(saved_page, host, phone, until):
    new_version_of_voltages(host, until, saved_page)
    expect(saved_page.locator("#new-version")).to_be_visible()
    other = phone.new_page()
    other.goto(host.address)
    run_card(other, running=True)
    expect(saved_page.locator("#new-version")).to_be_hidden()


def test_taking_a_new_version_in_one_tab_reloads_no_other(saved_page, host, phone, until):
    other = phone.new_page()
    other.goto(host.address + "voltages.html")
    expect(other.locator("#offline-state")).to_have_text(ALL_SAVED)
    new_version_of_voltages(host, until, saved_page)
    saved_page.get_by_role("button", name="Use the new version").click()
    until(saved_page, f"{WAITS}.then(waits => !waits)")
    expect(saved_page.locator("#offline-state")).to_have_text(ALL_SAVED)
    expect(other.locator("#new-version")).to_be_visible()
    expect(heading(other)).to_have_text("Voltages")
    other.get_by_role("button", name="Use the new version").click()
    expect(heading(other)).to_have_text("Voltages, corrected")


def test_a_browser_closed_in_the_middle_of_a_card_comes_back_to_the_same_version(opened_phone, host, until):
    with opened_phone() as phone:
        page = phone.new_page()
        page.goto(host.address)
        expect(page.locator("#offline-state")).to_have_text(ALL_SAVED)
        run_card(page, running=True)
        new_version_of_voltages(host, until, page)
        lose_the_signal(host, page)
    with opened_phone() as phone:
        page = phone.new_page()
        page.goto(host.address + "voltages.html")
        expect(page.locator("#offline-state")).to_have_text(ALL_SAVED)
        until(page, f"{WAITS}.then(waits => !waits)")  # the browser has ended the wait by itself
        page.reload()
        expect(heading(page)).to_have_text("Voltages")
        run_card(page, running=False)
        until(page, f"{STORE}.then(s => s.match('.stored/running-card')).then(r => r === undefined)")
        page.reload()
        expect(heading(page)).to_have_text("Voltages")  # an open page keeps the files that it was made with
    with opened_phone() as phone:
        page = phone.new_page()
        page.goto(host.address + "voltages.html")
        expect(heading(page)).to_have_text("Voltages, corrected")


def test_two_copies_on_one_host_keep_apart(page, tmp_path):
    for club in ("north", "south"):
        make_site(tmp_path / "host" / club)
    with Host(tmp_path / "host") as host:
        for club in ("north", "south"):
            page.goto(f"{host.address}{club}/")
            expect(page.locator("#offline-state")).to_have_text(ALL_SAVED)
        write(host.folder / "south/voltages.html", page_html("Voltages in the south"))
        hashes(host.folder / "south")
        page.evaluate("navigator.serviceWorker.getRegistration().then(r => r.update()).then(() => null)")
        page.get_by_role("button", name="Use the new version").click()
        expect(page.locator("#new-version")).to_be_hidden()
        lose_the_signal(host, page)
        page.goto(f"{host.address}north/voltages.html")
        expect(heading(page)).to_have_text("Voltages")
        page.goto(f"{host.address}south/voltages.html")
        expect(heading(page)).to_have_text("Voltages in the south")
