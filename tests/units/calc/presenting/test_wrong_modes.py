"""What each charger mode does to each kind of pack, against the full voltages and windows that the sources print."""

from __future__ import annotations

import pytest

from calc.presenting.wrong_modes import wrong_modes_table

# Full voltages: 4.20 and 4.35 V per cell (Maleki 2014), 4.20 V (Chen 2020), 3.65 V (a cell's data sheet). Differences in the head.
LIPO = "Lithium-polymer, 4.20 V per cell"
LIHV = "High-voltage lithium-polymer, 4.35 V per cell"
LIION = "Lithium-ion, 4.20 V per cell"
LIFE = "Lithium iron phosphate, 3.65 V per cell"


def _consequences(chemistry: str) -> dict[str, str]:
    return {
        row.heading.replace("\N{NO-BREAK SPACE}", " "): str(row.cells[1]).replace("\N{NO-BREAK SPACE}", " ")
        for row in wrong_modes_table(chemistry).rows
    }


@pytest.mark.parametrize(
    ("pack", "mode", "over"),
    [("lipo", LIHV, "0.15 V"), ("liion", LIHV, "0.15 V"), ("life", LIPO, "0.55 V"), ("life", LIION, "0.55 V"), ("life", LIHV, "0.70 V")],
)
def test_a_mode_above_the_pack_s_full_voltage_is_never_right_and_says_by_how_much(pack: str, mode: str, over: str) -> None:
    assert _consequences(pack)[mode] == f"Too full by {over}: never, it can burn."


@pytest.mark.parametrize(
    ("pack", "mode", "short"), [("lihv", LIPO, "0.15 V"), ("lihv", LIFE, "0.70 V"), ("lipo", LIFE, "0.55 V"), ("liion", LIFE, "0.55 V")]
)
def test_a_mode_below_it_stops_short_and_is_not_called_a_fire(pack: str, mode: str, short: str) -> None:
    said = _consequences(pack)[mode]
    assert said.startswith(f"Stops {short} short of full.")
    assert "burn" not in said


@pytest.mark.parametrize(("pack", "mode"), [("lipo", LIION), ("lihv", LIION), ("lipo", LIFE), ("lihv", LIFE)])
def test_a_mode_whose_floor_lies_lower_warns_of_its_discharge(pack: str, mode: str) -> None:
    # 2.5 V in the papers of round and iron phosphate cells, 3.0 V in that of pouch cells.
    assert _consequences(pack)[mode].endswith("But a discharge may go on to 2.50 V, below this pack's floor.")


@pytest.mark.parametrize(("pack", "mode"), [("liion", LIPO), ("lihv", LIPO), ("liion", LIFE)])
def test_a_mode_whose_floor_is_not_lower_warns_of_none(pack: str, mode: str) -> None:
    assert "discharge" not in _consequences(pack)[mode]


@pytest.mark.parametrize(("pack", "mode"), [("lipo", LIPO), ("lihv", LIHV), ("liion", LIION), ("life", LIFE)])
def test_the_pack_s_own_mode_comes_first_and_the_nickel_mode_last(pack: str, mode: str) -> None:
    said = _consequences(pack)
    assert next(iter(said)) == mode and said[mode] == "The right mode for this pack."
    assert list(said)[-1] == "Nickel-metal hydride" and said["Nickel-metal hydride"].endswith("never, it can burn.")
