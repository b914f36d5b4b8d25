"""A code is read through the browser's own camera, which shows a film here: from the code of one phone to the list of another."""

import base64
import io

import pytest
import zxingcpp
from PIL import Image
from playwright.sync_api import Page, expect

from site_builder.harness.phone import PATIENCE_MS, PHONE, SIZE
from site_builder.harness.store import kept
from tests.browser.film import code_of, filming, held, opened
from tests.browser.test_app_own import own_pack, tile
from tests.browser.test_app_sharing import FOREIGN, MEASURED, PAGE, lay, packs_of

START = "Read a code with the camera"
STOP = "Stop the camera"
BLANK = Image.new("RGB", (9, 9), "white")
OUT_OF_SIGHT = "Object.defineProperty(document, 'hidden', { get: () => true }); document.dispatchEvent(new Event('visibilitychange'))"
# Counts the tracks of every camera that is switched on.
TRACKS = """{
  window.tracks = [];
  const { mediaDevices } = navigator;
  const real = mediaDevices.getUserMedia.bind(mediaDevices);
  mediaDevices.getUserMedia = async (wanted) => {
    const stream = await real(wanted);
    tracks.push(...stream.getTracks());
    return stream;
  };
}"""
LET_GO = "tracks.length > 0 && tracks.every(({ readyState }) => readyState === 'ended')"


@pytest.fixture(scope="module")
def camera(playwright, browser_program, tmp_path_factory):
    with filming(playwright, browser_program, tmp_path_factory.mktemp("film")) as camera:
        yield camera


@pytest.fixture
def reader(camera):
    """A page of a phone with a camera."""
    context = camera.browser.new_context(**PHONE, service_workers="block")
    context.add_init_script(TRACKS)
    yield context.new_page()
    context.close()


@pytest.fixture
def ours(site) -> str:
    return f"{site.address}{PAGE}?own_name=Pine+Wren&chemistry=lipo&cells=4&capacity_mah=5000&label_charge_rate_c=2"


def read(page: Page, site) -> None:
    page.goto(site.address + PAGE + "?read=")
    page.get_by_role("button", name=START).click()


def says(page: Page, words: str) -> None:
    expect(page.get_by_role("status").filter(has_text=words)).to_be_visible()


def test_a_pack_goes_by_its_code_from_one_phone_through_the_camera_to_the_list_of_another(camera, phone_without_store, reader, site, until):
    with_history = own_pack("Copper Wren", state=["charged", MEASURED], dates={"measured_capacity_mah": MEASURED})
    with_history["entries"]["measured_capacity_mah"] = "4700"
    shown = phone_without_store.new_page()
    lay(shown, site.address, with_history)
    shown.goto(site.address + PAGE + "?code=copper wren")
    expect(shown.locator(".code svg")).to_be_visible(timeout=PATIENCE_MS)
    camera.sees(Image.open(io.BytesIO(shown.locator(".code").screenshot())).convert("RGB"), turned_deg=4, blur_px=0.8)

    reader.goto(site.address + "my-packs.html")
    reader.get_by_role("link", name="Read a code").click()
    reader.get_by_role("button", name=START).click()
    expect(reader.get_by_role("heading", name="Copper Wren")).to_be_visible()
    expect(reader.locator("#file-place")).to_contain_text("LiPo 4S 5000\u00a0mAh")
    expect(reader.locator("#file-place")).to_contain_text("4700\u00a0mAh, 9 October 2025")
    expect(reader.locator(".came-by-link")).to_contain_text("only once you take it")
    until(reader, LET_GO)
    assert packs_of(reader) == []

    reader.get_by_role("button", name="Keep it among my packs").click()
    says(reader, "Copper Wren is kept on this phone.")
    reader.get_by_role("link", name="Open Copper Wren").click()
    expect(reader.get_by_text("How it was left is not known.")).to_be_visible()
    reader.get_by_role("link", name="All my packs").click()
    expect(tile(reader, "Copper Wren")).to_have_text("Copper WrenLiPo 4S 5000\u00a0mAh")
    [pack] = packs_of(reader)
    assert "state" not in pack and pack["entries"] == with_history["entries"]
    assert kept(reader, f"log {pack['id']}") is None


HELD = {
    "turned and far away": {"turned_deg": 33, "share": 0.45},
    "upside down in the dusk": {"turned_deg": 180, "brightness": 0.15},
    "out of focus": {"blur_px": 1.5},
    "all of it": {"turned_deg": 12, "blur_px": 1, "brightness": 0.4, "share": 0.7},
}


def test_a_code_is_read_as_a_cold_hand_holds_it(camera, reader, site, ours):
    for how, as_held in HELD.items():
        camera.sees(code_of(ours), **as_held)
        read(reader, site)
        expect(reader.get_by_role("heading", name="Pine Wren"), how).to_be_visible()


@pytest.mark.parametrize("way", ["", "?read="])
def test_on_a_phone_that_lies_down_the_whole_picture_and_what_stops_it_are_in_sight(camera, reader, site, ours, until, way):
    camera.sees(BLANK)
    reader.set_viewport_size({"width": SIZE["height"], "height": SIZE["width"]})
    reader.goto(site.address + PAGE + way)
    reader.get_by_role("button", name=START).click()
    until(reader, "document.querySelector('video').currentTime > 0")
    expect(reader.locator("video")).to_be_in_viewport(ratio=1)
    expect(reader.get_by_role("button", name=STOP)).to_be_in_viewport(ratio=1)
    box = reader.locator("video").bounding_box()
    assert box["width"] / box["height"] == pytest.approx(4 / 3, rel=0.02), "what the camera sees is cut off"
    reader.get_by_role("button", name=STOP).click()
    camera.sees(code_of(ours))
    reader.get_by_role("button", name=START).click()
    expect(reader.get_by_role("heading", name="Pine Wren")).to_be_visible()


# The browser's own detector, where it has one: a machine of tests has none, so what another library finds in the frame stands for it.
OWN_DETECTOR = """globalThis.BarcodeDetector = class {
  static getSupportedFormats() { return Promise.resolve(["qr_code"]); }
  async detect(video) {
    const canvas = new OffscreenCanvas(video.videoWidth, video.videoHeight);
    canvas.getContext("2d").drawImage(video, 0, 0);
    const frame = await (await canvas.convertToBlob({ type: "image/jpeg" })).arrayBuffer();
    const found = await window.detected(btoa(String.fromCharCode(...new Uint8Array(frame))));
    return found.map((rawValue) => ({ rawValue }));
  }
}"""


def detected(frame: str) -> list[str]:
    return [found.text for found in zxingcpp.read_barcodes(Image.open(io.BytesIO(base64.b64decode(frame))))]


def test_the_browsers_own_detector_reads_the_film_where_there_is_one(camera, reader, site, ours):
    camera.sees(code_of(ours), turned_deg=10, share=0.7)
    reader.context.expose_function("detected", detected)
    reader.context.add_init_script(OWN_DETECTOR)
    reader.route("**/code_decoder-*.js", lambda route: route.abort())
    read(reader, site)
    expect(reader.get_by_role("heading", name="Pine Wren")).to_be_visible()


# As on a phone whose browser has the detector, and not the service behind it.
DETECTOR_WITHOUT_A_SERVICE = {
    "that rejects": "async detect() { throw new DOMException('no service', 'NotSupportedError'); }",
    "that cannot be made": "constructor() { throw new TypeError('no service'); }",
    "that reads other codes": "static async getSupportedFormats() { return ['ean_13']; }",
}


@pytest.mark.parametrize("fault", DETECTOR_WITHOUT_A_SERVICE.values(), ids=DETECTOR_WITHOUT_A_SERVICE)
def test_the_library_reads_the_film_where_the_browser_has_a_detector(camera, reader, site, ours, fault):
    reader.context.add_init_script(
        f"globalThis.BarcodeDetector = class {{ static async getSupportedFormats() {{ return ['qr_code']; }} {fault} }}"
    )
    camera.sees(code_of(ours))
    read(reader, site)
    expect(reader.get_by_role("heading", name="Pine Wren")).to_be_visible()


FOREIGN_CODES = [
    FOREIGN,
    "javascript:alert(document.domain)",
    "{address}@elsewhere.example/save-and-share.html?own_name=Trap",
    "{address}/../elsewhere/",
    "<img src=x onerror=alert(1)>",
    "LiPo 4S",
]


def test_a_code_that_leads_elsewhere_is_only_told(camera, reader, site, until):
    reader.goto(site.address + PAGE + "?read=")
    for code in FOREIGN_CODES:
        text = code.format(address=site.address.rstrip("/"))
        camera.sees(code_of(text))
        reader.get_by_role("button", name=START).click()
        says(reader, f"This code leads elsewhere, so it is not opened. It says: {text}")
        until(reader, LET_GO)
    assert reader.url == site.address + PAGE + "?read="


def test_what_a_code_says_cannot_turn_round_the_words_beside_it(camera, reader, site):
    camera.sees(code_of("5000\u202e mAh\u200b\nOpen it"))
    read(reader, site)
    says(reader, "It says: 5000 mAh Open it")


def test_a_name_before_the_host_of_a_code_is_not_gone_to_with_it(camera, reader, site, ours):
    camera.sees(code_of(ours.replace("://", "://trap:trap@")))
    read(reader, site)
    expect(reader.get_by_role("heading", name="Pine Wren")).to_be_visible()
    assert reader.url == ours


def test_a_code_without_its_corner_is_read_as_nothing_and_the_camera_looks_on(camera, reader, site, ours, until):
    seen = held(code_of(ours))
    seen.paste((255, 255, 255), (60, 20, 260, 200))
    camera.sees(seen, share=1)
    read(reader, site)
    expect(reader.locator("video")).to_be_visible()
    until(reader, "document.querySelector('video').currentTime > 0.6")
    assert reader.url == site.address + PAGE + "?read="
    assert not reader.evaluate(LET_GO)


def test_a_camera_that_is_taken_away_ends_and_says_so(camera, reader, site):
    camera.sees(BLANK)
    read(reader, site)
    expect(reader.locator("video")).to_be_visible()
    reader.evaluate("for (const track of tracks) { track.stop(); track.dispatchEvent(new Event('ended')); }")
    says(reader, "The camera has stopped. Start it again, or choose a picture of the code.")
    expect(reader.locator("video")).to_be_hidden()
    expect(reader.get_by_role("button", name=START)).to_be_focused()


def test_a_phone_that_lacks_what_reads_codes_says_so_and_lets_the_camera_go(camera, reader, site, ours, until):
    camera.sees(code_of(ours))
    reader.route("**/code_decoder-*.js", lambda route: route.abort())
    read(reader, site)
    says(reader, "What reads codes is not on this phone yet. Open this page once with a signal.")
    until(reader, LET_GO)


def test_what_another_tab_changes_leaves_the_camera_running(camera, reader, site):
    camera.sees(BLANK)
    read(reader, site)
    expect(reader.locator("video")).to_be_visible()
    reader.evaluate("document.dispatchEvent(new CustomEvent('fieldslate:own'))")
    expect(reader.locator("video")).to_be_visible()
    expect(reader.get_by_role("button", name=STOP)).to_be_visible()


@pytest.mark.parametrize("way", ["a link", "the way back", "out of sight", STOP])
def test_the_camera_is_let_go_when_nobody_looks_any_more(camera, reader, site, until, way):
    camera.sees(BLANK)
    reader.goto(site.address + "my-packs.html")
    reader.get_by_role("link", name="Read a code").click()
    reader.get_by_role("button", name=START).click()
    expect(reader.locator("video")).to_be_visible()
    acts = {
        "a link": reader.get_by_role("link", name="My packs").click,
        "the way back": reader.go_back,
        "out of sight": lambda: reader.evaluate(OUT_OF_SIGHT),
        STOP: reader.get_by_role("button", name=STOP).click,
    }
    acts[way]()
    until(reader, LET_GO)


def test_the_button_that_starts_the_camera_is_at_hand_again_once_it_was_stopped(camera, reader, site):
    camera.sees(BLANK)
    read(reader, site)
    reader.get_by_role("button", name=STOP).click()
    expect(reader.get_by_role("button", name=START)).to_be_focused()


def test_a_page_that_was_left_before_the_pilot_allowed_the_camera_lets_it_go(reader, site, until):
    reader.add_init_script(
        "{ const { mediaDevices } = navigator; const real = mediaDevices.getUserMedia;"
        "mediaDevices.getUserMedia = (wanted) => new Promise((go) => { window.allow = () => go(real(wanted)); }); }"
    )
    read(reader, site)
    reader.get_by_role("link", name="My packs").click()
    expect(reader.locator(".own-new")).to_be_visible()
    reader.evaluate("allow()")
    until(reader, LET_GO)


WITHOUT_A_CAMERA = {
    "refused": (
        ["--use-fake-device-for-media-stream", "--use-fake-ui-for-media-stream=deny"],
        "The camera may not be used here: allow it in the browser, or choose a picture of the code.",
    ),
    "none": (
        ["--use-fake-device-for-media-stream=device-count=0", "--use-fake-ui-for-media-stream"],
        "No camera can be used here, or choose a picture of the code.",
    ),
}


@pytest.mark.parametrize(("switches", "sentence"), WITHOUT_A_CAMERA.values(), ids=WITHOUT_A_CAMERA)
def test_where_there_is_no_camera_to_use_the_page_says_why_and_a_picture_does(
    playwright, browser_program, site, ours, tmp_path, switches, sentence
):
    code_of(ours).save(tmp_path / "code.png")
    with opened(playwright, browser_program, switches) as browser:
        page = browser.new_page(service_workers="block")
        read(page, site)
        says(page, sentence)
        page.get_by_label("Or a picture of a code").set_input_files(tmp_path / "code.png")
        expect(page.get_by_role("heading", name="Pine Wren")).to_be_visible()
