"""Several packs as the entries of one: as careful as the most delicate of them, in the cold and in the heat."""

from __future__ import annotations

from calc.asking.equipment import PackEntries
from calc.asking.joined_packs import JoinedPackEntries
from calc.physics.joined_packs import as_one, at_its_warmest, sound_packs


def _packs(*degc: tuple[float, float | None]):
    entries = [
        PackEntries(
            chemistry="lipo", cells=1, capacity_mah=5000, resting_v=(3.8,), pack_degc=pack_degc, air_degc=air_degc, label_charge_rate_c=1
        )
        for pack_degc, air_degc in degc
    ]
    return sound_packs(JoinedPackEntries(packs=tuple(entries), asked_rate_c=1))


def test_the_coldest_pack_and_the_coldest_air_count_for_the_cold_and_the_warmest_for_the_heat() -> None:
    packs = _packs((22, 14), (20, None), (24, 11))
    one_pack = as_one(packs)
    assert (one_pack.pack_degc, one_pack.air_degc) == (20, 11)
    warmest = at_its_warmest(one_pack, packs)
    assert (warmest.pack_degc, warmest.air_degc) == (24, 14)


def test_air_that_nobody_measured_stays_unknown() -> None:
    packs = _packs((22, None), (20, None))
    assert as_one(packs).air_degc is at_its_warmest(as_one(packs), packs).air_degc is None
