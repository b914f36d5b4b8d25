"""Two tabs at once, a double tap, a phone that is full half way, and names that would mislead: nothing is lost and nothing doubled."""

from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from site_builder.harness.phone import PHONE
from site_builder.harness.store import WITHOUT_SCRIPTS, kept, lay_records, records, sealed, sealed_list
from tests.browser.page_faults import too_wide
from tests.browser.test_app_kept import HOLD_THE_STORE, NO_SERVICE_WORKER
from tests.browser.test_app_own import keep_it, own_pack, type_label
from tests.browser.test_app_sharing import PAGE, choose, packs_of
from tests.properties.own_file import line, pack, scripts, things

TAKE = "Take it in"
# The third of what is written in one go finds no room.
FULL_HALF_WAY = """{
  const { put } = IDBObjectStore.prototype;
  let count = 0;
  IDBObjectStore.prototype.put = function (...given) {
    count += 1;
    if (window.isFull && count % 3 === 0) throw new DOMException("no room", "QuotaExceededError");
    return put.apply(this, given);
  };
}"""


@pytest.fixture
def second(browser):
    context = browser.new_context(**PHONE, service_workers="block")
    yield context.new_page()
    context.close()


@pytest.fixture
def file_of(tmp_path):
    def made(name: str, *packs: dict) -> Path:
        with scripts() as run:
            (tmp_path / name).write_text(run.file_of(things(*packs))["text"])
        return tmp_path / name

    return made


def shown(page: Page, site, file: Path) -> None:
    page.goto(site.address + PAGE)
    choose(page, file)
    page.get_by_role("button", name=TAKE).wait_for()


def names(page: Page) -> list[str]:
    return sorted(one["name"] for one in packs_of(page))


def test_two_tabs_that_take_two_files_in_at_the_same_moment_lose_nothing(site, second, file_of, until):
    other = second.context.new_page()
    shown(second, site, file_of("one.json", *(pack(f"Copper {at}", log=[line("one")]) for at in range(30))))
    shown(other, site, file_of("two.json", *(pack(f"Tin {at}", log=[line("one")]) for at in range(30))))
    third = second.context.new_page()
    third.goto(site.address + WITHOUT_SCRIPTS)
    third.evaluate(HOLD_THE_STORE)
    for page in (second, other):
        page.evaluate("document.querySelector('.file-brings').requestSubmit()")
    third.evaluate("letGo()")
    for page in (second, other):
        until(page, "!['', 'It is being taken in.'].includes(document.getElementById('file-said').textContent)")
        if page.get_by_role("button", name=TAKE).count():
            page.get_by_role("button", name=TAKE).click()
            expect(page.get_by_role("status").filter(has_text="Taken in:")).to_be_visible()
    assert len(names(second)) == 60


def test_the_log_of_a_pack_that_was_removed_loses_no_line_to_an_older_file_nor_to_taking_it_back(site, second, file_of):
    older = file_of("older.json", pack("Copper", log=[line("one"), line("three", note="of another phone")]))
    stays = [line("one"), line("two", note="since the file")]
    lay_records(second, site.address, {"own pack": sealed_list("own pack", []), "log copper": sealed("log copper", stays)})
    shown(second, site, older)
    second.get_by_role("button", name=TAKE).click()
    expect(second.get_by_role("status").filter(has_text="Taken in: 1 new")).to_be_visible()
    assert [one["id"] for one in kept(second, "log copper")] == ["one", "two", "three"]
    second.locator(".last-file summary").click()
    second.get_by_role("button", name="Take it back").click()
    expect(second.get_by_role("status").filter(has_text="The file is taken back.")).to_be_visible()
    assert names(second) == [] and kept(second, "log copper") == stays


def test_a_double_tap_takes_a_file_in_once_and_says_so(site, second, file_of):
    shown(second, site, file_of("one.json", pack("Copper Wren")))
    second.evaluate("{ const form = document.querySelector('.file-brings'); form.requestSubmit(); form.requestSubmit(); }")
    expect(second.get_by_role("status").filter(has_text="Taken in: 1 new")).to_be_visible()
    expect(second.get_by_role("heading", name="Take a file in")).to_be_visible()
    assert names(second) == ["Copper Wren"]


def test_a_phone_that_is_full_half_way_has_taken_in_nothing(site, second, file_of):
    second.context.add_init_script(NO_SERVICE_WORKER)
    second.add_init_script(FULL_HALF_WAY)
    shown(second, site, file_of("one.json", *(pack(f"Copper {at}", log=[line("one")]) for at in range(5))))
    before = records(second)
    second.evaluate("window.isFull = true")
    second.get_by_role("button", name=TAKE).click()
    expect(second.get_by_role("status").filter(has_text="Nothing was taken in: this phone cannot keep it.")).to_be_visible()
    assert records(second) == before
    second.evaluate("window.isFull = false")
    second.get_by_role("button", name=TAKE).click()
    expect(second.get_by_role("status").filter(has_text="Taken in: 5 new")).to_be_visible()
    assert len(names(second)) == 5


def test_a_disk_that_is_really_full_has_taken_in_nothing(opened_phone, site, file_of):
    with opened_phone() as phone:
        phone.add_init_script(NO_SERVICE_WORKER)
        page = phone.new_page()
        session = phone.new_cdp_session(page)
        session.send("Storage.overrideQuotaForOrigin", {"origin": site.address.rstrip("/"), "quotaSize": 100_000})
        shown(page, site, file_of("one.json", *(pack(f"Copper {at}", log=[line("one", note="x" * 9_000)]) for at in range(20))))
        before = records(page)
        page.get_by_role("button", name=TAKE).click()
        expect(page.get_by_role("status").filter(has_text="Nothing was taken in: this phone cannot keep it.")).to_be_visible()
        assert records(page) == before


def test_two_tabs_that_keep_a_pack_at_the_same_moment_keep_both(site, second):
    tabs = {"Pine Wren": second, "Tin Wren": second.context.new_page()}
    for name, page in tabs.items():
        page.goto(site.address + "my-packs.html?new=")
        type_label(page, name)
    third = second.context.new_page()
    third.goto(site.address + WITHOUT_SCRIPTS)
    third.evaluate(HOLD_THE_STORE)
    for page in tabs.values():
        page.evaluate("document.querySelector('#own form').requestSubmit()")
    third.evaluate("letGo()")
    for name, page in tabs.items():
        expect(page.get_by_role("status").filter(has_text=f"{name} is kept on this phone.")).to_be_visible()
    assert names(second) == ["Pine Wren", "Tin Wren"]


def test_a_name_is_kept_as_it_reads_and_no_longer_than_a_file_takes_it(site, second):
    second.goto(site.address + "my-packs.html?new=")
    type_label(second, "\u200b\u2066")
    keep_it(second)
    expect(second.get_by_role("alert").filter(has_text="Still needed: Name.")).to_be_visible()
    second.get_by_role("textbox", name="Name").fill("Copper\u202e Wren\u200b " + "x" * 300)
    keep_it(second)
    expect(second.get_by_role("status").filter(has_text="is kept on this phone.")).to_be_visible()
    [name] = names(second)
    assert name.startswith("Copper Wren xxx") and len(name) <= 200


def test_a_year_of_five_digits_is_no_day_of_a_log(site, second):
    lay_records(second, site.address, {"own pack": sealed_list("own pack", [own_pack("Copper")])})
    second.goto(site.address + "my-packs.html?log=copper&line=charge")
    second.locator("[name=day]").evaluate("(day) => { day.value = '20260-05-03'; }")
    second.get_by_role("button", name="Keep this line").click()
    expect(second.get_by_role("alert").filter(has_text="Still needed: the day.")).to_be_visible()
    assert kept(second, "log copper") is None


HOSTILE_LINKS = {
    "markup": ("own_name=<img src=x onerror=alert(1)>&cells=<b>4</b>", "<img src=x onerror=alert(1)>"),
    "what turns words round": ("own_name=Copper%E2%80%AE%20Wren&cells=%E2%80%AE21", "Copper Wren"),
    "nothing that is seen": ("own_name=%E2%80%8B%00&cells=4", None),
    "a name without end": ("own_name=" + "%F0%9F%94%8B" * 500, "\U0001f50b" * 200),
    "a name of the language": ("own_name=__proto__&__proto__=1&constructor=2", "__proto__"),
}


@pytest.mark.parametrize(("query", "name"), HOSTILE_LINKS.values(), ids=HOSTILE_LINKS)
def test_a_hostile_link_is_a_name_in_plain_words_or_nothing(site, second, query, name):
    faults = []
    second.on("pageerror", lambda fault: faults.append(str(fault)))
    second.on("dialog", lambda dialog: faults.append(dialog.message))
    second.goto(site.address + PAGE + "?" + query)
    if name is None:
        expect(second.get_by_role("heading", name="Take a file in")).to_be_visible()
    else:
        expect(second.locator("#file-place h2")).to_have_text(name)
        assert too_wide(second) == []
        assert second.locator("#file-place").inner_text().count("\u202e") == 0
    assert [fault for fault in faults if "onupdatefound" not in fault] == []
