"""Break `calc/physics` and `calc/rules` on purpose, a place at a time, and see that the tests notice.

Each breakage is a mutant: a plus in place of a minus, a bound that lies one step off. One that no test notices has
survived, and names a number that nobody guards. `mutate calc.physics.supply.leads*` breaks that module alone. A mutant that
changes no answer at all is written into tests/equivalent_mutants.toml with the reason, and counts no more. One family needs
no entry: what is said to `zip` of `strict` only matters for lists of unequal lengths, of which there are none.

Units and published values are the tests that must notice. The properties are not among them: they would notice more, but
draw so many cases that a run would take a day.
"""

import argparse
import os
import re
import shutil
import sys
import tomllib
from pathlib import Path

from site_builder.setting_up.checkout import CACHE, ROOT
from site_builder.setting_up.running import run as run_program
from site_builder.setting_up.running import say

COPY = CACHE / "mutation"
NEEDED = ("calc", "content", "site_builder", "tests", "pyproject.toml")
EQUIVALENT = ROOT / "tests" / "equivalent_mutants.toml"
# What the tool says of a mutant that gave itself away: a test failed, or a loop no longer ended.
NOTICED = ("killed", "timeout", "segfault")
NOT_RUN = "not checked"


def run(arguments: list[str]) -> int:
    parser = argparse.ArgumentParser(prog="python3 -m site_builder mutate", description=__doc__)
    parser.add_argument(
        "names", nargs="*", help="which mutants, as calc.physics.supply.leads*; all of calc/physics and calc/rules if not given"
    )
    parser.add_argument("--least", type=float, default=95, help="percent of the mutants that the tests must notice, 95 if not given")
    asked = parser.parse_args(arguments)

    _copy()
    done = run_program(
        [sys.executable, "-m", "mutmut", "run", *asked.names], r"\d+00/\d+", environment={"PYTHONHASHSEED": "0"}, folder=COPY
    )
    if not done.well:
        say(done.output[-4000:])
        return 1
    return _report(asked.least)


def _copy() -> None:
    """The tool writes beside what it breaks, so it works on a copy, made anew: what it remembers knows no changed test."""
    shutil.rmtree(COPY, ignore_errors=True)
    COPY.mkdir(parents=True)
    for name in NEEDED:
        source = ROOT / name
        if source.is_dir():
            shutil.copytree(source, COPY / name, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            shutil.copy2(source, COPY / name)


def _report(least_percent: float) -> int:
    """Print each mutant that survived, then the score. Run in the copy, where the tool finds what it wrote."""
    os.chdir(COPY)
    from mutmut.mutation.data import SourceFileMutationData
    from mutmut.mutation.diff_apply import get_diff_for_mutant
    from mutmut.stats import status_by_exit_code

    listed = tomllib.loads(EQUIVALENT.read_text(encoding="utf-8"))["mutant"]
    equivalent = {(one["module"], one["was"], one["becomes"]) for one in listed}
    noticed, survived, met = 0, 0, set()
    for meta in sorted(Path("mutants/calc").glob("*/*/*.py.meta")):
        path = meta.relative_to("mutants").with_suffix("")
        found = SourceFileMutationData(path=path)
        found.load()
        for name, code in found.exit_code_by_key.items():
            status = status_by_exit_code[code]
            if status in NOTICED:
                noticed += 1
            elif status != NOT_RUN:
                change = (path.stem, *_changed(get_diff_for_mutant(name, path=path)))
                if change in equivalent or only_strict_differs(*change[1:]):
                    met.add(change)
                    continue
                survived += 1
                say("{}: {}\n    {}\n    -> {}".format(status, *change))
    for change in sorted(equivalent - met):
        say("not met, so no longer equivalent or not run: {}: {} -> {}".format(*change))
    score = 100 * noticed / max(noticed + survived, 1)
    say(f"{noticed} mutants noticed, {survived} not, {len(met)} equivalent: {score:.1f} % noticed")
    return 0 if score >= least_percent else 1


def _changed(diff: str) -> tuple[str, str]:
    """The lines that a mutant changes, before and after, without their indent."""
    lines = diff.splitlines()[2:]
    was, becomes = (" ".join(line[1:].strip() for line in lines if line.startswith(sign)) for sign in "-+")
    return was, becomes


def only_strict_differs(was: str, becomes: str) -> bool:
    """Whether a mutant leaves all but the `strict` of a `zip` as it was."""
    return _without_strict(was) == _without_strict(becomes)


def _without_strict(line: str) -> str:
    return re.sub(r", strict=\w+|, (?=\))", "", line)
