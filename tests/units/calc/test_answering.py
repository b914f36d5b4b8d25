"""One door: an answer or a refusal, never both, and never a fault of ours dressed as one."""

from __future__ import annotations

import pytest

from calc import answering
from calc.calculators import voltages
from calc.inputs.refusals import Refusal


def test_every_calculator_has_the_same_three_names() -> None:
    for key in answering.calculator_keys():
        module = answering.calculator(key)
        assert module.Inputs and module.Answer and module.work_out


def test_the_calculators_are_the_modules_of_their_folder() -> None:
    assert {"charge_settings", "charging_card", "voltages"} <= set(answering.calculator_keys())


def test_good_entries_give_the_calculator_s_answer() -> None:
    assert isinstance(answering.answer("voltages", {"chemistry": "lipo", "cells": "3"}), voltages.Answer)


def test_bad_entries_give_every_problem() -> None:
    refusal = answering.answer("voltages", {"chemistry": "coal", "cells": "0"})
    assert isinstance(refusal, Refusal)
    assert [problem.field for problem in refusal.problems] == ["chemistry", "cells"]


def test_an_unknown_calculator_is_a_fault_of_ours() -> None:
    with pytest.raises(LookupError, match="teleport"):
        answering.answer("teleport", {})


def test_a_fault_of_ours_is_not_turned_into_a_refusal(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(voltages, "work_out", broken)
    with pytest.raises(ZeroDivisionError):
        answering.answer("voltages", {"chemistry": "lipo", "cells": "3"})
