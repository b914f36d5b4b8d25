"""Node.js and the packages from npm: Pyodide for the pages, axe-core for the tests.

A machine without npm gets one from the Python index, in an environment of its own in .cache/node/.
"""

import json
import os
import re
import shutil
from pathlib import Path

from site_builder.setting_up.checkout import CACHE, LOCKS, NPM_LIST
from site_builder.setting_up.environment import Environment
from site_builder.setting_up.failures import SetUpFailed, download_failed, telling_lines
from site_builder.setting_up.running import run, say
from site_builder.setting_up.stamps import digest, once

OLDEST_NODE = 18  # what Pyodide's own package asks for
OWN_NODE = Environment(CACHE / "node")
FETCHED = CACHE / "npm"


def node_modules() -> Path:
    """Return the folder that holds `pyodide/` and `axe-core/`, fetched as the lock file of npm names them."""
    lists = [NPM_LIST / "package.json", NPM_LIST / "package-lock.json"]
    modules = FETCHED / "node_modules"
    once(modules / ".fetched", digest(*lists), lambda: _fetch(lists))
    return modules


def node_program() -> Path:
    """Return the node to run: the machine's own, or ours, installed now, if it has none."""
    return _program("node")


def run_node(script: Path, *arguments: Path | str, meant: str) -> None:
    """Run a script of the build in node; `meant` says what is not there, should it fail."""
    finished = run([node_program(), script, *(argument.resolve() if isinstance(argument, Path) else argument for argument in arguments)])
    if not finished.well:
        lines = "\n".join(f"    {line}" for line in telling_lines(finished.output))
        raise SetUpFailed(f"Nothing was built. {meant}:\n{lines}")


def run_npm(arguments: list[str], folder: Path, meant: str) -> None:
    """Run npm in a folder; `meant` says what it is to fetch, should it fail."""
    npm = _program("npm")
    finished = run(
        [npm, *arguments],
        environment={
            "PATH": f"{npm.parent}{os.pathsep}{os.environ.get('PATH', '')}",  # npm looks for its node there
            "NODE_USE_SYSTEM_CA": "1",  # a network with a certificate of its own has it in the system's store
        },
        folder=folder,
    )
    if not finished.well:
        raise download_failed("npm", finished.output, meant)


def _fetch(lists: list[Path]) -> None:
    named = json.loads(lists[0].read_text(encoding="utf-8"))
    meant = " and ".join(f"{name} {version}" for name, version in (named["dependencies"] | named["devDependencies"]).items())
    say(f"Fetching {meant} with npm")
    FETCHED.mkdir(parents=True, exist_ok=True)
    for file in lists:
        shutil.copy(file, FETCHED)
    # --include=dev: with NODE_ENV=production npm would leave axe-core out.
    run_npm(["ci", "--ignore-scripts", "--no-audit", "--no-fund", "--include=dev"], FETCHED, meant)


def _program(name: str) -> Path:
    """Return the machine's own node or npm if it has both and they are not too old, else ours."""
    node, npm = shutil.which("node"), shutil.which("npm")
    if node and npm and _major_version(node) >= OLDEST_NODE:
        return Path({"node": node, "npm": npm}[name])
    OWN_NODE.install(LOCKS / "node.txt")
    return Path(shutil.which(name, path=OWN_NODE.programs) or name)


def _major_version(node: str) -> int:
    printed = re.match(r"v(\d+)\.", run([node, "--version"]).output)
    return int(printed[1]) if printed else 0
