"""What the find page looks through: the sections of all other pages and the plain words, and the scripts that find in them.

The index over them is made here, in node: to read it takes a phone a tenth of the time that making it would.
"""

from __future__ import annotations

import json
from pathlib import Path

from calc.facts.chemistries import CHEMISTRIES
from site_builder.building.bundling import joined
from site_builder.building.sections import Section
from site_builder.reading.faults import ContentFault
from site_builder.reading.plain_words import PlainWords
from site_builder.setting_up.checkout import CACHE, ROOT
from site_builder.setting_up.node import run_node

TROUBLE_PAGE = "pack-in-trouble.html"
SCRIPTS = ROOT / "site_builder" / "search"
MADE = CACHE / "search"
# A voltage below the highest floor of any kind is looked for as this: the page that it leads to says what each kind's floor is.
LOW_CELL = "below the floor"


def search_files(sections: list[Section], plain_words: PlainWords, node_modules: Path) -> dict[str, bytes]:
    """Return the files by name: what is looked through with the index over it, our script, and the library with its licence.

    Raises:
        ContentFault: a list of plain words leads to a section that is not there.
    """
    library = node_modules / "minisearch"
    licence = (library / "LICENSE.txt").read_bytes()
    kept = _kept(sections, plain_words)
    return {
        "search.mjs": (SCRIPTS / "search.mjs").read_bytes(),
        "minisearch.mjs": b"/*!\n" + licence + b"*/\n" + joined(library / "dist" / "es" / "index.js", names="short"),
        "sections.json": _as_json(kept | {"index": _index(kept, library)}),
    }


def _kept(sections: list[Section], plain_words: PlainWords) -> dict[str, object]:
    by_address = {section.address: _as_kept(section) for section in sections}
    also: dict[str, str] = dict.fromkeys(by_address, "")
    for leads_to in (*(group.leads_to for group in plain_words.alike), *(group.leads_to for group in plain_words.phrases)):
        if leads_to and leads_to not in by_address:
            sentence = f"`leads_to` is {leads_to}, which leads nowhere. Correct it, or write the page or heading that it names."
            raise ContentFault(plain_words.file, sentence, plain_words.line_of(leads_to))
    for group in plain_words.alike:
        if group.leads_to:
            also[group.leads_to] += " ".join(group.words) + " "
    return {
        "leftOut": plain_words.left_out,
        "alike": [{"words": group.words, "leadsTo": group.leads_to} for group in plain_words.alike],
        "phrases": [{"said": said, "leadsTo": group.leads_to} for group in plain_words.phrases for said in group.said],
        "lowCell": {"belowV": max(one.never_below_cell_v.value for one in CHEMISTRIES.values()), "says": LOW_CELL},
        "troublePage": TROUBLE_PAGE,
        "sections": [kept | {"also": also[address]} for address, kept in by_address.items()],
    }


def _as_kept(section: Section) -> dict[str, object]:
    return {
        "address": section.address,
        "also": "",
        "isDocument": section.is_document,
        "isWord": section.is_word,
        "isCard": section.is_card,
        "title": section.title,
        "heading": section.heading,
        "asks": section.asks,
        "shows": section.shows,
        "says": section.says,
    }


def _index(kept: dict[str, object], library: Path) -> object:
    MADE.mkdir(parents=True, exist_ok=True)
    (MADE / "kept.json").write_bytes(_as_json(kept))
    module = library / "dist" / "es" / "index.js"
    run_node(SCRIPTS / "make_index.mjs", module, MADE / "kept.json", MADE / "index.json", meant="The index of the find page was not made")
    return json.loads((MADE / "index.json").read_bytes())


def _as_json(held: object) -> bytes:
    return json.dumps(held, ensure_ascii=False, separators=(",", ":")).encode()
