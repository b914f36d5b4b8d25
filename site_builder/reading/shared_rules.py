"""content/rules.toml -> the rules that more than one page says, each written once and taken over by its name: `{{far-apart}}`.

What is taken over is part of the page before anything of it is read, so a rule has its marks of sources, and is held to all
that the page's own words are held to.
"""

import re
from pathlib import Path

from pydantic import RootModel

from site_builder.reading.faults import ContentFault
from site_builder.reading.tables import read_table

RULES_FILE = "rules.toml"

_NAME = re.compile(r"\{\{([a-z-]+)\}\}")


class _Rules(RootModel[dict[str, str]]):
    """Name to Markdown. It stands within a paragraph and within text of TOML, so it holds neither quotation marks nor line breaks."""


def read_shared_rules(file: Path) -> dict[str, str]:
    """Return the rules by name; none where there is no such file.

    Raises:
        ContentFault: the table does not hold, or a rule would end the text that takes it over.
    """
    if not file.is_file():
        return {}
    rules = read_table(_Rules, file.read_text(encoding="utf-8"), file).root
    for name, says in rules.items():
        if re.search(r'["\\\n]', says):
            sentence = f"`{name}` holds a quotation mark, a backslash or a line break, and pages take it over within a text. Take it out."
            raise ContentFault(file, sentence)
    return rules


def with_shared_rules(text: str, rules: dict[str, str], file: Path) -> str:
    """Return the text of a page with the rules in it that it names.

    Raises:
        ContentFault: it names one that is not there.
    """
    for number, line in enumerate(text.splitlines(), 1):
        for name in _NAME.findall(line):
            if name not in rules:
                raise ContentFault(
                    file, f"`{{{{{name}}}}}` is no rule of content/{RULES_FILE}. Correct the name, or write it there.", number
                )
    return _NAME.sub(lambda found: rules[found[1]], text)
