"""The order of the tests: quick ones first, then of those with a browser what takes longest, so that all workers end at about the same time."""

from pathlib import Path

import pytest

BROWSER = Path(__file__).parent / "browser"
# As long as they take, the longest first; what is not named takes seconds. A worker has a file to itself, with what its tests share.
LONGEST = (
    "test_app_pages.py",
    "test_app_card_line.py",
    "test_app_own.py",
    "test_journey.py",
    "test_app_plan.py",
    "test_app_kept.py",
    "test_card.py",
    "test_app_flips.py",
    "test_offline_attacked.py",
    "test_app_start.py",
    "test_bit_flips.py",
    "test_app_engine.py",
    "test_app_looks.py",
    "test_app_log.py",
    "test_app_job_card.py",
    "test_offline.py",
    "test_app_sharing.py",
    "test_app_card.py",
    "test_stalls.py",
    "test_app_units.py",
    "test_app_entries.py",
    "test_app_readings.py",
    "test_app_camera.py",
    "test_app_travel.py",
    "test_app_warmth.py",
    "test_app_links.py",
    "test_app_offline.py",
    "test_app_together.py",
    "test_app_reading_boxes.py",
    "test_app_paper.py",
    "test_app_due.py",
    "test_app_find.py",
    "test_app_last_answer.py",
    "test_app_several.py",
    "test_app_briefing.py",
    "test_budgets.py",
)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Move nothing but the browser's files."""
    turns = {BROWSER / name: turn for turn, name in enumerate(LONGEST)}
    if gone := [file.name for file in turns if not file.is_file()]:
        raise pytest.UsageError(f"tests/conftest.py orders {', '.join(gone)}, which is not in tests/browser: take it out there")
    last = len(LONGEST)
    places = {path: (BROWSER in path.parents, turns.get(path, last)) for path in {item.path for item in items}}
    items.sort(key=lambda item: places[item.path])
