"""Several packs that are to be charged as one: each sound by itself, all of one kind, and the entries of them together."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from calc.facts.chemistries import Chemistry
from calc.facts.practice import PACKS_APART_K
from calc.figures.limits import Limit
from calc.figures.quantities import DEGREES_CELSIUS, Figure
from calc.figures.sentences import worded
from calc.figures.spans import Span
from calc.figures.units import ah_from_mah
from calc.inputs.equipment import ChargerEntries, PackEntries
from calc.inputs.joined_packs import JoinedPackEntries
from calc.inputs.refusals import Problem, Refused
from calc.inputs.rows import each_row, in_row
from calc.rules.charge.charge_outlook import pack_cell_resistance_ohm
from calc.rules.charge.charge_setting import charge_setting_a
from calc.rules.pack.acceptance import judged
from calc.rules.pack.condition import Condition
from calc.rules.pack.findings import Act
from calc.rules.pack.readings import Reading


@dataclass(frozen=True, slots=True, kw_only=True)
class SoundPack:
    """A pack that may be charged by itself: its number on the form, its entries, its facts, its voltages and its condition."""

    number: int
    entries: PackEntries
    chemistry: Chemistry
    reading: Reading
    condition: Condition

    @property
    def title(self) -> str:
        """What it is called on the form and in sentences."""
        return f"Pack {self.number}"

    @property
    def cells(self) -> int:
        """Cells in series."""
        return int(self.entries.cells)

    @property
    def each_cell_v(self) -> tuple[float, ...]:
        """The resting voltage of each cell, V; of a pack that was measured as a whole, its mean cell as often as it has cells."""
        return self.reading.cell_v * (self.cells // len(self.reading.cell_v))

    @property
    def effective_ah(self) -> float:
        """What it holds, Ah: the capacity last measured, but never more than the label."""
        return ah_from_mah(self.entries.effective_capacity_mah)

    @property
    def cell_resistance_ohm(self) -> Span:
        """The resistance of one cell, Ω."""
        return pack_cell_resistance_ohm(self.entries)


def sound_packs(joined: JoinedPackEntries, also: Sequence[Problem] = ()) -> tuple[SoundPack, ...]:
    """Return the packs that are to be joined, in the order of the form, once each may be charged by itself.

    Refuses all that speaks against a charge of any pack, each named, and `also`: what else speaks against the charge.
    """
    try:
        found = each_row(joined, "packs", lambda entries: judged(entries, act=Act.CHARGE))
    except Refused as refused:
        raise Refused(*refused.problems, *also) from None
    if also:
        raise Refused(*also)
    return tuple(
        SoundPack(number=number, entries=entries, chemistry=one.chemistry, reading=one.reading, condition=one.condition)
        for number, (entries, one) in enumerate(zip(joined.packs, found, strict=True), 1)
    )


def refuse_unlike(joined: JoinedPackEntries, numbered: Sequence[tuple[int, Problem]], also: Sequence[Problem] = ()) -> None:
    """Refuse packs that must not be joined: `numbered` are problems in the names of a pack's own entries, `also` those of no pack."""
    problems = [*(in_row(type(joined), "packs", number, problem) for number, problem in numbered), *also]
    if problems:
        raise Refused(*problems)


def joint_setting_a(
    *, joined: JoinedPackEntries, charger: ChargerEntries, one_pack: PackEntries, limits: list[Limit], smallest: SoundPack
) -> tuple[float, Limit]:
    """Return `charge_setting_a` of several packs as one. Where the current is less than a step, the refusal names the smallest pack."""
    try:
        return charge_setting_a(pack=one_pack, current_step_a=charger.current_step_a, limits=limits)
    except Refused as refused:
        raise Refused(
            *(in_row(type(joined), "packs", smallest.number, problem) if problem.field else problem for problem in refused.problems)
        ) from None


def unlike_chemistry(packs: Sequence[SoundPack]) -> list[tuple[int, Problem]]:
    """Return the number of each pack whose chemistry is not that of the first, and the problem: their full voltages differ."""
    sentence = (
        "This is another kind of pack than Pack 1. Charge them one by one: there is no mode and no full voltage that is right for both."
    )
    return [(one.number, Problem("chemistry", sentence)) for one in packs if one.entries.chemistry != packs[0].entries.chemistry]


def unlike_temperature(packs: Sequence[SoundPack]) -> list[tuple[int, Problem]]:
    """Return the number of each pack that must wait until it is as cold as the others, and the problem.

        T_k - T_coldest > 10 K

    Source: common practice, no source, for the span; `physics.cell.cells.temperature_factor` for what it does.
    """
    coldest = min(packs, key=lambda one: one.entries.coolest_degc)
    span = Figure(PACKS_APART_K.value, DEGREES_CELSIUS.as_it_is)
    return [
        (
            one.number,
            Problem(
                "pack_degc",
                worded(
                    f"This pack is at {{}} and {coldest.title} at {{}}: over {span} apart (common practice, no source). The warmer one takes "
                    "more than its share. Wait until they are equally warm.",
                    Figure(one.entries.warmest_degc, DEGREES_CELSIUS),
                    Figure(coldest.entries.coolest_degc, DEGREES_CELSIUS),
                ),
            ),
        )
        for one in packs
        if one.entries.warmest_degc - coldest.entries.coolest_degc > PACKS_APART_K.value
    ]


def joint_reading(packs: Sequence[SoundPack], pack_v: float) -> Reading:
    """Return the voltages of several packs as those of one: the lowest and the highest cell are those of all packs."""
    cell_v = tuple(v for one in packs for v in one.each_cell_v)
    return Reading(pack_v=pack_v, cell_v=cell_v, each_cell=all(one.reading.each_cell for one in packs))


def known_of_all(packs: Sequence[SoundPack], of: Callable[[PackEntries], float | None], choose: Callable[..., float]) -> float | None:
    """Return one value for several packs, such as their `max`, or None where it is not known of each."""
    values = [value for one in packs if (value := of(one.entries)) is not None]
    return choose(values) if len(values) == len(packs) else None


def as_one(
    packs: Sequence[SoundPack],
    *,
    cells: float,
    resting_v: float,
    capacity_mah: float,
    measured_capacity_mah: float | None,
    cell_resistance_mohm: float | None,
) -> PackEntries:
    """Return several packs as the entries of one, as careful as the most delicate of them.

    The lowest label rates count, and the coldest pack in the coldest air that was measured. The rest is what the joint makes of it.
    """
    return replace(
        packs[0].entries,
        label_charge_rate_c=min(one.entries.label_charge_rate_c for one in packs),
        label_discharge_rate_c=known_of_all(packs, lambda entries: entries.label_discharge_rate_c, min),
        pack_degc=min(one.entries.coolest_degc for one in packs),
        pack_warmth=None,
        air_degc=min(_air_degc(packs), default=None),
        cells=cells,
        resting_v=(resting_v,),
        capacity_mah=capacity_mah,
        measured_capacity_mah=measured_capacity_mah,
        cell_resistance_mohm=cell_resistance_mohm,
    )


def at_its_warmest(one_pack: PackEntries, packs: Sequence[SoundPack]) -> PackEntries:
    """Return several packs as the entries of one for what is too warm: with the temperature of the warmest, in the warmest air."""
    return replace(one_pack, pack_degc=max(one.entries.warmest_degc for one in packs), air_degc=max(_air_degc(packs), default=None))


def _air_degc(packs: Sequence[SoundPack]) -> list[float]:
    return [one.entries.air_degc for one in packs if one.entries.air_degc is not None]
