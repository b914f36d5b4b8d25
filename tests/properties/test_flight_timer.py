"""What holds of every timer: nothing that takes from a flight ever lengthens it, and the reserve is kept."""

from __future__ import annotations

import re

from hypothesis import example, given
from hypothesis import strategies as st

from calc.answering import answer
from calc.inputs.refusals import Refusal
from tests.properties.typed_entries import CHEMISTRY_KEYS, Entries

# mAh put back after ten minutes each, from a pack that could hold three times as much.
_PUT_BACK = st.lists(st.integers(1000, 2000), min_size=1, max_size=10)
_PACK = {"chemistry": "lipo", "capacity_mah": "6000", "pack_degc": "25", "reserve_percent": "20"}


def _flights(put_back: list[float]) -> Entries:
    return {f"flights_{count}_flown_min": "10" for count in range(1, len(put_back) + 1)} | {
        f"flights_{count}_put_back_mah": f"{mah:.6f}" for count, mah in enumerate(put_back, 1)
    }


def _timer_s(entries: Entries) -> int:
    """The timer in seconds; none at all where it is refused."""
    found = answer("flight_timer", entries)
    if isinstance(found, Refusal):
        return 0
    minutes, seconds = re.fullmatch(r"(\d+)\D+(\d+)\D+", found.timer.figure).groups()
    return int(minutes) * 60 + int(seconds)


@given(_PUT_BACK, st.floats(1, 2))
@example([1400, 1500, 1600], 2)
@example([1000] * 9 + [2000], 1.5)
def test_more_spread_never_lengthens_the_timer(put_back: list[float], stretch: float) -> None:
    mean = sum(put_back) / len(put_back)
    wider = [mean + stretch * (mah - mean) for mah in put_back]
    if min(wider) < 10:
        return
    assert _timer_s(_PACK | _flights(wider)) <= _timer_s(_PACK | _flights(put_back))


@given(_PUT_BACK, st.integers(-10, 49), st.integers(-10, 49))
@example([1500], 5, 20)
def test_a_colder_pack_never_gets_a_longer_timer(put_back: list[float], one_degc: int, other_degc: int) -> None:
    colder, warmer = (_PACK | _flights(put_back) | {"pack_degc": str(degc)} for degc in sorted((one_degc, other_degc)))
    assert _timer_s(colder) <= _timer_s(warmer)


@given(_PUT_BACK, st.integers(1500, 6600), st.integers(1500, 6600))
@example([1500], 3000, 6000)
def test_a_pack_that_holds_less_never_gets_a_longer_timer(put_back: list[float], one_mah: int, other_mah: int) -> None:
    less, more = (_PACK | _flights(put_back) | {"measured_capacity_mah": str(mah)} for mah in sorted((one_mah, other_mah)))
    assert _timer_s(less) <= _timer_s(more)


@given(_PUT_BACK)
@example([1000] * 9 + [2000])
def test_every_flight_that_was_noted_is_planned_for(put_back: list[float]) -> None:
    assert answer("flight_timer", _PACK | _flights(put_back)).planned_draw.figure.value >= max(put_back) / 10 - 1e-9


@given(st.sampled_from(CHEMISTRY_KEYS), _PUT_BACK, st.integers(1, 49), st.integers(5, 60))
def test_the_reserve_is_left_even_after_the_flight_that_was_planned_for(
    chemistry: str, put_back: list[float], degc: int, reserve_percent: int
) -> None:
    entries = _PACK | _flights(put_back) | {"chemistry": chemistry, "pack_degc": str(degc), "reserve_percent": str(reserve_percent)}
    assert answer("flight_timer", entries).left.least.value >= reserve_percent - 1e-6
