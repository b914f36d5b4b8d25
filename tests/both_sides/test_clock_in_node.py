"""The time of day as the scripts write it and as calc does: on the page of the plan they stand side by side."""

from datetime import UTC, datetime, timedelta

from calc.figures.quantities import CLOCK
from site_builder.setting_up.checkout import WEB
from site_builder.setting_up.node import node_program
from site_builder.setting_up.running import run

MINUTES = (0, 9, 60, 545, 599, 600, 1439)


def test_a_time_of_day_is_written_alike_by_the_scripts_and_by_calc() -> None:
    midnight = datetime(2026, 5, 9, tzinfo=UTC)
    moments = [round((midnight + timedelta(minutes=minutes)).timestamp() * 1000) for minutes in MINUTES]
    asked = f"import('{(WEB / 'page_parts.js').as_uri()}').then(({{ clockOf }}) => console.log({moments}.map(clockOf).join(' ')))"
    told = run([node_program(), "-e", asked], environment={"TZ": "UTC"})
    assert told.output.split() == [CLOCK.written(minutes) for minutes in MINUTES]
