"""Make the whole journey in Chromium, Firefox and WebKitGTK: first visit, no signal, answer, card, killed browser, pack in trouble."""

import argparse
import time
from pathlib import Path
from tempfile import TemporaryDirectory

from site_builder.commands import build
from site_builder.harness.journey import Engine, engines, journey
from site_builder.setting_up.browsers import fetch_other_browsers, find_browser
from site_builder.setting_up.checkout import DIST
from site_builder.setting_up.running import say


def run(arguments: list[str]) -> int:
    argparse.ArgumentParser(prog="python3 -m site_builder journey", description=__doc__).parse_args(arguments)
    chromium = find_browser()
    fetch_other_browsers()
    build.run([])
    made = [_made(engine) for engine in engines(chromium)]
    return 0 if all(made) else 1


def _made(engine: Engine) -> bool:
    """Say whether the journey went as it must; an engine that is not here has nothing against it."""
    if engine.missing:
        say(f"{engine.name:10} left out: {engine.missing}")
        return True
    begun = time.monotonic()
    with TemporaryDirectory(ignore_cleanup_errors=True) as folder:
        try:
            for line in journey(engine, Path(folder), DIST):
                say(f"{engine.name:10} {time.monotonic() - begun:5.1f} s  {line}")
        except Exception as failure:  # noqa: BLE001  # whatever it was, the other engines are still to go
            say(f"{engine.name:10} FAILED: {failure or type(failure).__name__}")
            return False
    return True
