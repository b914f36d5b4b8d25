"""The balance plugs of one pack, and the ports that they go into."""

from __future__ import annotations

import pytest

from calc.answering import PartialAnswer, answer
from calc.inputs.refusals import Refusal
from tests.units.calc.sound_charge import ENTRIES, problem, settings

EIGHT = {"cells": "8", "resting_v": "30.4", "supply_v": "24", "charger_input_most_v": "30", "balance_ports": "2", "port_cells": "6"}


def test_a_pack_with_one_plug_that_fits_a_port_is_told_nothing_of_ports() -> None:
    assert settings().ports is None


@pytest.mark.parametrize(
    ("first", "shown"),
    [
        ("4", [("port 1", "4 cells", "cells 1 to 4"), ("port 2", "4 cells", "cells 5 to 8")]),
        ("6", [("port 1", "6 cells", "cells 1 to 6"), ("port 2", "2 cells", "cells 7 to 8")]),
    ],
)
def test_two_plugs_are_named_port_by_port_with_the_cells_that_the_charger_shows(first: str, shown: list[tuple[str, ...]]) -> None:
    rows = settings(**EIGHT, first_plug_cells=first).ports.rows
    assert [tuple(str(cell).replace("\N{NO-BREAK SPACE}", " ") for cell in row.cells) for row in rows] == shown
    assert [row.heading for row in rows] == ["First plug, at the minus", "Second plug"]


def test_how_many_cells_are_on_each_plug_is_asked_and_never_assumed() -> None:
    only = problem(**EIGHT)
    assert (only.field, only.missing) == ("first_plug_cells", True)
    assert only.sentence == (
        "This pack has more cells than one balance port takes: enter how many cells are on its first balance plug. A pack with only one plug "
        "needs another charger."
    )


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"first_plug_cells": "8"}, "carries fewer cells than the pack has"),
        ({"first_plug_cells": "7"}, "a plug has more cells than a port takes"),
        ({"first_plug_cells": "1"}, "a plug has more cells than a port takes"),
        ({"first_plug_cells": "4", "port_cells": "8", "balance_ports": "1"}, "there are fewer than two"),
    ],
)
def test_plugs_that_do_not_go_into_the_ports_are_refused(changes: dict[str, str], words: str) -> None:
    only = problem(**EIGHT | changes)
    assert (only.field, only.missing) == ("first_plug_cells", False)
    assert words in only.sentence


def test_a_charger_whose_ports_are_too_small_is_refused_before_the_pack_is_read() -> None:
    unread = {name: text for name, text in (ENTRIES | EIGHT).items() if name not in ("resting_v", "pack_degc")}
    assert isinstance(answer("charge_settings", unread | {"first_plug_cells": "7"}), Refusal)
    assert isinstance(answer("charge_settings", unread | {"first_plug_cells": "4"}), PartialAnswer)


def test_plugs_that_do_not_fit_are_told_in_whole_sentences() -> None:
    assert problem(**EIGHT, first_plug_cells="7").sentence == (
        "The two balance plugs do not go into this charger's ports: there are fewer than two, or a plug has more cells than a port takes. Use "
        "a charger that balances them all."
    )
