"""No evening breaks a rule, whatever the packs, the outputs, the battery and the time that is left; and none does fewer than shortest first."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import event, given
from hypothesis import strategies as st

from calc.answering import answer
from calc.facts.chemistries import CHEMISTRIES
from calc.inputs.refusals import Refusal
from tests.properties.own_condition import FULL_CELL_V
from tests.properties.own_evening import faults_of, lines_of, own_page, packs_in, shortest_first
from tests.properties.test_day_plan import APART, BATTERIES, CELLS, CLUB, MAINS, SECOND_A, SECOND_W, TALL, second_chargers
from tests.properties.typed_entries import CHEMISTRY_KEYS, Entries

# Full, flown a little, somewhat below the band of storage, and low: where cells of each kind then rest, in hundredths of a volt.
_RESTS = {
    key: (
        full := round(100 * FULL_CELL_V[key]) - 5,
        min(full, round(100 * one.storage_high_cell_v.value) + 16),
        low := round(100 * one.storage_low_cell_v.value) - 10,
        low - 10,
    )
    for key, one in CHEMISTRIES.items()
}

_FULL = {key: round(100 * full_v) for key, full_v in FULL_CELL_V.items()}


@st.composite
def evenings(draw: st.DrawFn) -> Entries:
    """Two to six packs, full, low and between, on a charger that discharges slowly, from a mains supply or a battery that may be small."""
    labels = [
        (kind, draw(st.sampled_from(CELLS[kind]))) for kind in draw(st.lists(st.sampled_from(CHEMISTRY_KEYS), min_size=2, max_size=6))
    ]
    tall = any(cells > int(CLUB["charger_cells"]) for _, cells in labels)
    evening = (TALL if tall else CLUB) | draw(st.just(MAINS) | BATTERIES) | {
        "charger_outputs": draw(st.sampled_from("122")), "watched_charges": draw(st.sampled_from("1224")), "start_clock": "8:00",
        "change_min": draw(st.sampled_from(("0", "3", "5"))), "pack_degc": "20", "requested_rate_c": "1", "day_begun": "new",
        "time_left_min": str(draw(st.integers(20, 300))), "discharge_current_a": draw(st.sampled_from(("1", "5"))),
        "discharge_power_w": draw(st.sampled_from(("5", "20", ""))), "all_outputs_w": draw(st.sampled_from(("", "30", "80"))),
        "second_output_current_a": draw(st.sampled_from(SECOND_A)), "second_output_power_w": draw(st.sampled_from(SECOND_W)),
    } | draw(second_chargers())  # fmt: skip
    for number, (kind, cells) in enumerate(labels, 1):
        rests, apart = draw(st.sampled_from(_RESTS[kind])), draw(st.sampled_from(APART))
        evening |= {
            f"packs_{number}_chemistry": kind, f"packs_{number}_cells": str(cells), f"packs_{number}_stands": "waiting",
            f"packs_{number}_capacity_mah": draw(st.sampled_from(("450", "1000", "2200"))), f"packs_{number}_label_charge_rate_c": "1",
            f"packs_{number}_resting_v": " ".join(f"{min(rests + draw(st.integers(0, apart)), _FULL[kind]) / 100:.2f}" for _ in range(cells)),
        }  # fmt: skip
    return evening


@given(evenings())
def test_no_evening_breaks_a_rule(entries: Entries) -> None:
    found = answer("going_home", entries)
    if isinstance(found, Refusal):
        event("refused")
        return
    lines = lines_of(found)
    event(f"{len(lines)} lines, up and down: {len({line.is_charge for line in lines}) == 2}, left out: {found.not_tonight is not None}")
    faults = faults_of(entries, found)
    assert not faults, "\n".join(faults)


@given(evenings())
def test_no_evening_does_fewer_than_the_shortest_first(entries: Entries) -> None:
    # What shares no power and no battery goes as its own page says, on outputs alike.
    entries |= MAINS | {"second_charger": "same", "all_outputs_w": "", "second_output_current_a": "", "second_output_power_w": ""}
    found = answer("going_home", entries)
    if isinstance(found, Refusal):
        event("refused")
        return
    pages = [own_page(entries, number) for number in range(1, packs_in(entries) + 1)]
    times_min = [page.time.most.value for page in pages if page.time]
    assert len(lines_of(found)) >= shortest_first(entries, times_min)


def test_the_checker_finds_an_evening_that_breaks_a_rule() -> None:
    entries = CLUB | MAINS | {
        "charger_outputs": "1", "watched_charges": "1", "start_clock": "8:00", "change_min": "3", "pack_degc": "20", "requested_rate_c": "1",
        "day_begun": "new", "time_left_min": "240", "discharge_current_a": "1", "discharge_power_w": "20",
    }  # fmt: skip
    for number, rests in ((1, "4.15"), (2, "3.60")):
        entries |= {
            f"packs_{number}_chemistry": "lipo", f"packs_{number}_cells": "1", f"packs_{number}_capacity_mah": "1000",
            f"packs_{number}_label_charge_rate_c": "1", f"packs_{number}_resting_v": rests, f"packs_{number}_stands": "waiting",
        }  # fmt: skip
    found = answer("going_home", entries)
    assert not faults_of(entries, found)
    first, second = found.in_order.rows
    what, *stops, ready = second.cells
    own = lines_of(found)[1].pack
    for spoilt, told in (
        (replace(second, heading="8:01"), "the hands are on"),
        (replace(second, heading="8:04"), "same output"),
        (
            replace(second, cells=(str(what).replace(f"then Pack {own}:", f"then Pack {3 - own}:"), *stops, ready)),
            "each pack is named once",
        ),
        (replace(second, cells=(str(what).replace(". Discharge, ", ". Charge, "), *stops, ready)), "the other way"),
        (
            replace(second, cells=(str(what).replace(f"{lines_of(found)[1].current_a}\u00a0A", "1.4\u00a0A"), *stops, ready)),
            "above its own page",
        ),
        (replace(second, cells=(what, *stops, "about 8:40, at the latest 8:41")), "promises less"),
        (replace(second, cells=(what, *stops, "about 9:00, at the latest 12:01")), "is not done by"),
    ):
        broken = replace(found, in_order=replace(found.in_order, rows=(first, spoilt)))
        assert any(told in fault for fault in faults_of(entries, broken)), told
