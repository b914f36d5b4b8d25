"""What a camera sees, for a browser that takes a file for its camera: a code on a table, as a film of raw frames (YUV4MPEG2)."""

import io
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import segno
from PIL import Image, ImageEnhance, ImageFilter
from playwright.sync_api import Browser, Playwright

from tests.browser.phones import TEST_FLAGS

SIZE = (640, 480)  # what a browser asks of a camera where a page says nothing
TABLE = (120, 110, 100)


@dataclass(frozen=True, slots=True)
class Camera:
    """A browser, and the film that its camera shows whenever it is switched on."""

    browser: Browser
    film: Path

    def sees(self, picture: Image.Image, **as_held: float) -> None:
        write_film(held(picture, **as_held), self.film)


@contextmanager
def filming(playwright: Playwright, program: str, folder: Path) -> Iterator[Camera]:
    """A browser whose camera is a film, and whose pilot says yes when asked for the camera."""
    film = folder / "film.y4m"
    write_film(Image.new("RGB", SIZE, TABLE), film)
    switches = ["--use-fake-device-for-media-stream", f"--use-file-for-fake-video-capture={film}", "--use-fake-ui-for-media-stream"]
    with opened(playwright, program, switches) as browser:
        yield Camera(browser, film)


@contextmanager
def opened(playwright: Playwright, program: str, switches: list[str]) -> Iterator[Browser]:
    browser = playwright.chromium.launch(executable_path=program, args=[*TEST_FLAGS, *switches])
    yield browser
    browser.close()


def code_of(text: str) -> Image.Image:
    """Return a QR code with its white margin."""
    into = io.BytesIO()
    segno.make_qr(text).save(into, kind="png", scale=6, border=4)
    return Image.open(into).convert("RGB")


def held(code: Image.Image, share: float = 0.8, turned_deg: float = 0, blur_px: float = 0, brightness: float = 1) -> Image.Image:
    """Return what the camera sees of a code that takes so much of its height."""
    side = round(SIZE[1] * share)
    code = code.resize((side, side), Image.Resampling.LANCZOS).convert("RGBA").rotate(turned_deg, Image.Resampling.BICUBIC, expand=True)
    seen = Image.new("RGB", SIZE, TABLE)
    seen.paste(code, ((SIZE[0] - code.width) // 2, (SIZE[1] - code.height) // 2), code)
    return ImageEnhance.Brightness(seen.filter(ImageFilter.GaussianBlur(blur_px))).enhance(brightness)


def write_film(seen: Image.Image, film: Path) -> None:
    light, *colours = seen.convert("YCbCr").split()
    half = (seen.width // 2, seen.height // 2)
    planes = [light, *(colour.resize(half) for colour in colours)]
    frame = b"FRAME\n" + b"".join(plane.tobytes() for plane in planes)
    film.write_bytes(f"YUV4MPEG2 W{seen.width} H{seen.height} F10:1 Ip A1:1 C420jpeg\n".encode() + frame)
