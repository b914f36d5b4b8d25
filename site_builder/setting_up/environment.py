"""Python environments of our own: .venv/ for Fieldslate, and .cache/node/ on a machine that has no npm.

Each is made once and filled from a lock file whose every package has a hash. Nothing is installed outside of them.
"""

import importlib.util
import os
import re
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

from site_builder.setting_up.checkout import LOCKS, ROOT, VENV
from site_builder.setting_up.failures import SetUpFailed, download_failed, telling_lines
from site_builder.setting_up.running import run, say
from site_builder.setting_up.stamps import digest, once


@dataclass(frozen=True, slots=True)
class Environment:
    folder: Path

    @property
    def programs(self) -> Path:
        return self.folder / ("Scripts" if os.name == "nt" else "bin")

    @property
    def python(self) -> Path:
        return self.programs / ("python.exe" if os.name == "nt" else "python")

    @property
    def is_running(self) -> bool:
        return Path(sys.prefix).resolve() == self.folder.resolve()

    def install(self, lock: Path) -> None:
        """Make the environment and install what the lock names, as far as that is not done already."""
        if not self.is_running:
            made = self.folder / "made"
            if not self.python.exists():  # its Python was removed from the machine
                made.unlink(missing_ok=True)
            # Its programs name the folder and its packages fit one Python: after a move or with another Python it is made anew.
            once(made, f"{self.folder} {python_here()}", self._make)
        once(self.folder / f"installed-{lock.stem}", digest(lock), lambda: self._install(lock))

    def _make(self) -> None:
        refuse_without_venv()
        say(f"Making {self.folder.relative_to(ROOT)} with Python {python_here()}")
        made = run([sys.executable, "-m", "venv", "--clear", self.folder])
        if not made.well:
            raise SetUpFailed("\n    ".join([f"{self.folder} could not be made:", *telling_lines(made.output)]))

    def _install(self, lock: Path) -> None:
        count = len(re.findall(r"^[\w.\-]+==", lock.read_text(encoding="utf-8"), re.MULTILINE))
        say(f"Installing {count} packages into {self.folder.relative_to(ROOT)}")
        pip: list[str | Path] = [self.python, "-m", "pip", "install", "--no-input", "--progress-bar=off", "--disable-pip-version-check"]
        installed = run(
            [*pip, "--require-hashes", "-r", lock],
            shown=pip_progress,
            environment={"PIP_USER": "0"},  # a user's own setting for installs outside of environments makes pip refuse
        )
        if not installed.well:
            raise download_failed("pip", installed.output, meant=f"the packages of {lock.name}")


def enter(lock: str, arguments: list[str]) -> None:
    """Go on with the same command inside .venv, once that holds all that the lock names."""
    own = Environment(VENV)
    own.install(LOCKS / f"{lock}.txt")
    if own.is_running:
        return
    command = [str(own.python), "-m", "site_builder", *arguments]
    if os.name == "nt":  # there, execv would hand the terminal back while the command still runs
        sys.exit(subprocess.call(command))
    os.execv(command[0], command)


def refuse_without_venv() -> None:
    """Refuse on a Python whose venv was packed separately, as Debian does."""
    if importlib.util.find_spec("venv") and importlib.util.find_spec("ensurepip"):
        return
    raise SetUpFailed(
        "This Python cannot make an environment of its own: its part named venv is not installed.\n"
        f"On Debian and Ubuntu: apt install python{python_here()}-venv. Elsewhere, install a whole Python. "
        "Then give the same command again."
    )


def python_here() -> str:
    """Return the version of the running Python as its packages need it: 3.11."""
    return f"{sys.version_info.major}.{sys.version_info.minor}"


def pip_progress(line: str) -> str | None:
    """Return the line of progress for a line of pip's: the name and version of a package that it turns to."""
    begun = re.match(r"Collecting ([\w.\-]+)==([\w.\-]+)", line)
    begun = begun or re.match(r"Processing .*?([\w.]+)-([\w.]+)-[^/\\]*\.whl", line)  # from a folder of the user's own
    return f"  {begun[1]} {begun[2]}" if begun else None
