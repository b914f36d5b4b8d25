"""The time of day in the scripts: written as calc does, since both stand on the page of the plan, and as the moment at which one begins."""

from datetime import UTC, datetime, timedelta

import pytest

from calc.figures.quantities import CLOCK
from site_builder.setting_up.checkout import WEB
from site_builder.setting_up.node import node_program
from site_builder.setting_up.running import run

MINUTES = (0, 9, 60, 545, 599, 600, 1439)


def in_node(expression: str, zone: str = "UTC") -> list[str]:
    parts = f"import('{(WEB / 'page_parts.js').as_uri()}')"
    told = run([node_program(), "-e", f"{parts}.then(({{ clockOf, momentOf }}) => console.log({expression}))"], environment={"TZ": zone})
    return told.output.split()


def test_a_time_of_day_is_written_alike_by_the_scripts_and_by_calc() -> None:
    midnight = datetime(2026, 5, 9, tzinfo=UTC)
    moments = [round((midnight + timedelta(minutes=minutes)).timestamp() * 1000) for minutes in MINUTES]
    assert in_node(f"{moments}.map(clockOf).join(' ')") == [CLOCK.written(minutes) for minutes in MINUTES]


@pytest.mark.parametrize(
    ("now", "clock", "moment"),
    [
        ("2026-05-09T09:02", "9:00", "2026-05-09T09:00"),
        ("2026-05-09T09:02", "9:30", "2026-05-09T09:30"),
        ("2026-05-09T14:59", "9:00", "2026-05-09T09:00"),
        ("2026-05-09T00:03", "23:57", "2026-05-08T23:57"),  # it was planned just before midnight
        ("2026-05-08T20:00", "8:00", "2026-05-09T08:00"),  # the evening before
        ("2026-03-28T20:00", "8:00", "2026-03-29T08:00"),  # with a night between that has no hour after two
        ("2026-03-29T08:01", "8:00", "2026-03-29T08:00"),
        ("2026-10-25T08:01", "8:00", "2026-10-25T08:00"),
        ("2026-10-25T00:31Z", "2:30", "2026-10-25T00:30Z"),  # the hour that is there twice
        ("2026-10-25T01:31Z", "2:30", "2026-10-25T01:30Z"),
        ("2026-10-25T02:31Z", "2:30", "2026-10-25T01:30Z"),
        ("2026-12-31T23:00", "0:10", "2027-01-01T00:10"),
    ],
)
def test_a_plan_begins_at_the_time_of_day_that_is_nearest(now: str, clock: str, moment: str) -> None:
    minutes = CLOCK.reads(clock)
    assert in_node(f"momentOf('{minutes:.0f}', Date.parse('{now}')) - Date.parse('{moment}')", "Europe/Berlin") == ["0"]
