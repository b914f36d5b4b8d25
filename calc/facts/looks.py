"""What eyes, nose and memory say of a pack, worst first, with what it means and who says so.

The list is also the list of the form. A pilot goes down it and takes the first line that fits, so the one that says "none of
these" is read last.
"""

from __future__ import annotations

from dataclasses import dataclass

from calc.facts.cited import Provenance


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """One thing that may be seen, smelt or known: its words on the form, what it means, where that stands, and who says so.

    `section` is the heading of the page for a pack in trouble.
    """

    words: str
    means: str
    section: str
    source: str
    provenance: Provenance
    where: str


LOOKS: dict[str, Look] = {
    "smoking": Look(
        words="Smokes, hisses, or is getting hot",
        means="It smokes, hisses or is getting hot: get everyone away from it, and do not breathe the smoke",
        section="smoke-fire-or-hissing",
        source="erg-147",
        provenance=Provenance.READ,
        where="keep away on all sides",
    ),
    "swollen": Look(
        words="Swollen or puffed, even a little",
        means="It has swollen: there is gas in it that burns and is poisonous",
        section="swollen-pack",
        source="nfpa-lithium",
        provenance=Provenance.READ,
        where="change in shape: stop using it",
    ),
    "leaking": Look(
        words="Leaks, or smells sweet or of solvent",
        means="It leaks or smells: a cell is open",
        section="leaking-pack",
        source="nfpa-lithium",
        provenance=Provenance.READ,
        where="odour or leaking: stop using it",
    ),
    "bent": Look(
        words="Dented, bent, torn or pierced",
        means="It is dented, bent, torn or pierced: a cell may short inside, hours later too",
        section="crash-or-dent",
        source="nfpa-lithium",
        provenance=Provenance.READ,
        where="change in shape: stop using it",
    ),
    "soaked": Look(
        words="Wet under the wrap, or wet from salt water",
        means="Water is in it: it corrodes the cells and may short them days later",
        section="wet-pack",
        source="practice",
        provenance=Provenance.PRACTICE,
        where="salt water above all",
    ),
    "overcharged": Look(
        words="Was charged past full, or while frozen",
        means="It was charged past full or while frozen: a cell may be harmed where nobody sees it",
        section="charged-too-far",
        source="practice",
        provenance=Provenance.PRACTICE,
        where="any cell that was above full, or charged at 0 °C or below",
    ),
    "was-hot": Look(
        words="Was hot for no reason that you know",
        means="It was hot for no reason that you know: something inside gives off heat",
        section="hot-pack",
        source="nfpa-lithium",
        provenance=Provenance.READ,
        where="too much heat: stop using it",
    ),
    "shorted": Look(
        words="Was short-circuited today, no mark on it",
        means="It was short-circuited today: leave it in the open, and read it again tomorrow",
        section="short-circuit",
        source="practice",
        provenance=Provenance.PRACTICE,
        where="a harmed cell sinks within a day",
    ),
    "crashed": Look(
        words="Crashed today, no mark on it",
        means="It crashed today: watch it in the open for half an hour, and read it again tomorrow",
        section="crash-or-dent",
        source="ama-2004",
        provenance=Provenance.READ,
        where="move it with care to a safe place, and watch",
    ),
    "rained-on": Look(
        words="Wet outside only, from rain",
        means="It is wet outside: let it dry by itself in the open, then look it over again",
        section="wet-pack",
        source="practice",
        provenance=Provenance.PRACTICE,
        where="never dry it with heat",
    ),
    "watched": Look(
        words="Crashed or short-circuited a day ago or more, cool since, no mark",
        means="It has been through a crash or a short circuit",
        section="",
        source="practice",
        provenance=Provenance.PRACTICE,
        where="damage can take time to show",
    ),
}

# The last line of the list: the pack has been looked over and nothing was found.
SOUND = "sound"
SOUND_WORDS = "None of these: whole, flat, dry, cool, no smell"
