"""Several packs that are to be charged as one: each sound by itself, all of one kind, and the entries of them together."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from calc.facts.chemistries import Chemistry
from calc.facts.practice import PACKS_APART_K
from calc.figures.limits import Limit
from calc.figures.quantities import DEGREES_CELSIUS, Figure
from calc.figures.sentences import worded
from calc.figures.spans import Span
from calc.figures.units import ah_from_mah, ohm_from_mohm
from calc.inputs.equipment import FINEST_CURRENT_STEP_A, ChargerEntries, LabelledPack, PackEntries
from calc.inputs.joined_packs import JoinedPackEntries, LabelledPacksEntries
from calc.inputs.refusals import Problem, Refused
from calc.inputs.rows import each_row, in_row
from calc.rules.charge.charge_outlook import pack_cell_resistance_ohm
from calc.rules.charge.charge_setting import charge_setting_a
from calc.rules.pack.acceptance import judged, judged_so_far
from calc.rules.pack.condition import Condition
from calc.rules.pack.findings import Act
from calc.rules.pack.readings import Reading

Joined = JoinedPackEntries | LabelledPacksEntries
Pack = TypeVar("Pack", bound=LabelledPack)


@dataclass(frozen=True, slots=True, kw_only=True)
class NumberedPack:
    """A pack against whose charge nothing speaks that is known so far: its number on the form, its entries, its facts, its condition."""

    number: int
    entries: LabelledPack
    chemistry: Chemistry
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
    def effective_ah(self) -> float:
        """What it holds, Ah: the capacity last measured, but never more than the label."""
        return ah_from_mah(self.entries.effective_capacity_mah)


@dataclass(frozen=True, slots=True, kw_only=True)
class SoundPack(NumberedPack):
    """A pack that was read and may be charged by itself, with its voltages."""

    entries: PackEntries
    reading: Reading

    @property
    def each_cell_v(self) -> tuple[float, ...]:
        """The resting voltage of each cell, V; of a pack that was measured as a whole, its mean cell as often as it has cells."""
        return self.reading.cell_v * (self.cells // len(self.reading.cell_v))

    @property
    def cell_resistance_ohm(self) -> Span:
        """The resistance of one cell, Ω. The least is that of the lowest that was read, and no more than the meter showed: it may have been
        read just now, in the cold.
        """
        met = pack_cell_resistance_ohm(self.entries)
        read = [one for one in (self.entries.cell_resistance_mohm, *(self.entries.cell_resistances_mohm or ())) if one is not None]
        # What is met is that of the highest, and warm cells have less of it, all of them alike.
        return replace(met, least=min(met.least * min(read) / max(read), ohm_from_mohm(min(read)))) if read else met


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
        for number, (entries, one) in enumerate(zip(_in_one_air(joined.packs), found, strict=True), 1)
    )


def packs_so_far(labelled: LabelledPacksEntries, also: Sequence[Problem] = ()) -> tuple[NumberedPack, ...]:
    """Return the packs that are to be joined, of which not all have been read, and refuse as `sound_packs` does by what is known."""
    try:
        found = each_row(labelled, "packs", lambda entries: judged_so_far(entries, act=Act.CHARGE))
    except Refused as refused:
        raise Refused(*refused.problems, *also) from None
    if also:
        raise Refused(*also)
    return tuple(
        NumberedPack(number=number, entries=entries, chemistry=chemistry, condition=condition)
        for number, (entries, (chemistry, condition)) in enumerate(zip(_in_one_air(labelled.packs), found, strict=True), 1)
    )


def _in_one_air(packs: Sequence[Pack]) -> tuple[Pack, ...]:
    """The packs, each in the coldest air that was measured at any where none was at its own: joined packs lie side by side, and who has entered
    the air once does not enter it again.
    """
    coldest_degc = min((one.air_degc for one in packs if one.air_degc is not None), default=None)
    return tuple(replace(one, air_degc=coldest_degc) if one.air_degc is None else one for one in packs)


def refuse_unlike(joined: Joined, numbered: Sequence[tuple[int, Problem]], also: Sequence[Problem] = ()) -> None:
    """Refuse packs that must not be joined: `numbered` are problems in the names of a pack's own entries, `also` those of no pack."""
    problems = [*(in_row(type(joined), "packs", number, problem) for number, problem in numbered), *also]
    if problems:
        raise Refused(*problems)


def joint_setting_a(
    *, joined: Joined, charger: ChargerEntries | None, one_pack: LabelledPack, limits: list[Limit], smallest: NumberedPack
) -> tuple[float, Limit]:
    """Return `charge_setting_a` of several packs as one. Where the current is less than a step, the refusal names the smallest pack."""
    try:
        step_a = charger.current_step_a if charger else FINEST_CURRENT_STEP_A
        return charge_setting_a(pack=one_pack, current_step_a=step_a, limits=limits)
    except Refused as refused:
        raise Refused(
            *(in_row(type(joined), "packs", smallest.number, problem) if problem.field else problem for problem in refused.problems)
        ) from None


def unlike_chemistry(packs: Sequence[NumberedPack]) -> list[tuple[int, Problem]]:
    """Return the number of each pack whose chemistry is not that of the first, and the problem: their full voltages differ."""
    sentence = (
        "This is another kind of pack than Pack 1. Charge them one by one: there is no mode and no full voltage that is right for both."
    )
    return [(one.number, Problem("chemistry", sentence)) for one in packs if one.entries.chemistry != packs[0].entries.chemistry]


def unlike_temperature(packs: Sequence[NumberedPack]) -> list[tuple[int, Problem]]:
    """Return the number of each pack that must wait until it is as cold as the others, and the problem, by what is known of them.

        T_k - T_coldest > 10 K

    Source: common practice, no source, for the span; `physics.cell.cells.temperature_factor` for what it does.
    """
    known = [
        (one, one.entries.coolest_degc, one.entries.warmest_degc)
        for one in packs
        if one.entries.coolest_degc is not None and one.entries.warmest_degc is not None
    ]
    if not known:
        return []
    coldest, coldest_degc, _ = min(known, key=lambda one: one[1])
    span = Figure(PACKS_APART_K.value, DEGREES_CELSIUS.as_it_is)
    return [
        (
            one.number,
            Problem(
                "pack_degc",
                worded(
                    f"This pack is at {{}} and {coldest.title} at {{}}: over {span} apart (common practice, no source). The warmer one takes "
                    "more than its share. Wait until they are equally warm.",
                    Figure(warmest_degc, DEGREES_CELSIUS),
                    Figure(coldest_degc, DEGREES_CELSIUS),
                ),
            ),
        )
        for one, _, warmest_degc in known
        if warmest_degc - coldest_degc > PACKS_APART_K.value
    ]


def joint_reading(packs: Sequence[SoundPack], pack_v: float) -> Reading:
    """Return the voltages of several packs as those of one: the lowest and the highest cell are those of all packs."""
    cell_v = tuple(v for one in packs for v in one.each_cell_v)
    return Reading(pack_v=pack_v, cell_v=cell_v, each_cell=all(one.reading.each_cell for one in packs))


def known_of_all(packs: Sequence[SoundPack], of: Callable[[PackEntries], float | None], choose: Callable[..., float]) -> float | None:
    """Return one value for several packs, such as their `max`, or None where it is not known of each."""
    values = [value for one in packs if (value := of(one.entries)) is not None]
    return choose(values) if len(values) == len(packs) else None


def labels_as_one(packs: Sequence[NumberedPack], *, cells: float, capacity_mah: float, measured_capacity_mah: float | None) -> LabelledPack:
    """Return several packs as the label of one, with the lowest of their charge rates."""
    return LabelledPack(
        chemistry=packs[0].entries.chemistry,
        cells=cells,
        capacity_mah=capacity_mah,
        measured_capacity_mah=measured_capacity_mah,
        label_charge_rate_c=min(one.entries.label_charge_rate_c for one in packs),
    )


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
        cell_resistances_mohm=None,  # those of the first pack alone
    )


def at_its_warmest(one_pack: PackEntries, packs: Sequence[SoundPack]) -> PackEntries:
    """Return several packs as the entries of one for what is too warm: with the temperature of the warmest, in the warmest air."""
    return replace(one_pack, pack_degc=max(one.entries.warmest_degc for one in packs), air_degc=max(_air_degc(packs), default=None))


def _air_degc(packs: Sequence[SoundPack]) -> list[float]:
    return [one.entries.air_degc for one in packs if one.entries.air_degc is not None]
