"""The whole journey of a phone in each engine that this machine has. `python3 -m site_builder journey` makes the same one."""

import pytest

from site_builder.harness.journey import engines, journey


@pytest.mark.parametrize("name", ["Chromium", "Firefox", "WebKitGTK"])
def test_a_phone_makes_the_whole_journey_and_loses_nothing(name, browser_program, tmp_path, dist):
    engine = next(engine for engine in engines(browser_program) if engine.name == name)
    if engine.missing:
        pytest.skip(engine.missing)
    for line in journey(engine, tmp_path, dist):
        print(line)
