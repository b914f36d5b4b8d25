"""The ends of a pack's life: where each stands, and what is not known is said so."""

from __future__ import annotations

from calc.calculators.parts.end_of_life_ends import ends_table, life_verdict
from calc.facts.chemistries import CHEMISTRIES
from calc.figures.showing import Setting, Table
from calc.rules.pack.acceptance import judged
from calc.rules.pack.readings import Reading
from tests.units.calc.sound_charge import given

EACH = Reading(pack_v=11.25, cell_v=(3.80, 3.80, 3.65), each_cell=True)
WHOLE = Reading(pack_v=11.4, cell_v=(3.80,), each_cell=False)


def _table(reading: Reading = EACH, held: float | None = None, times_new: float | None = None) -> Table:
    return ends_table(CHEMISTRIES["lipo"], "lipo", "sound", reading, held=held, times_new=times_new)


def _life(**changes: str) -> Setting:
    return life_verdict(judged(given(**changes)).condition)


def _own(table: Table) -> list[str]:
    return [str(row.cells[0]).replace("\N{NO-BREAK SPACE}", " ") for row in table.rows]


def test_what_is_not_known_is_said_so() -> None:
    assert _own(_table(WHOLE))[2:] == ["not known", "not known", "not known"]


def test_what_is_known_stands_beside_its_end() -> None:
    assert _own(_table(held=0.92, times_new=1.4))[3:] == ["92 %", "140 %"]
    assert [row.cells[1].replace("\N{NO-BREAK SPACE}", " ") for row in _table().rows[3:]] == ["80 % and less", "200 % and more"]


def test_a_share_reads_as_its_end_only_where_it_has_reached_it() -> None:
    assert _own(_table(held=0.804, times_new=1.996))[3:] == ["80.4 %", "199.6 %"]
    assert _own(_table(held=0.8, times_new=2.0))[3:] == ["80 %", "200 %"]


def test_a_mild_finding_ends_no_life() -> None:
    assert _life(look="watched").figure == "Not at its end"


def test_four_fifths_of_the_label_end_it() -> None:
    worn = _life(capacity_mah="5000", measured_capacity_mah="4000")
    assert worn.figure == "Take it out of use"
    assert "80\N{NO-BREAK SPACE}% of the capacity on its label" in worn.set_by
