"""The machine that is measured on, and a stand-in for a slow phone: one core, shared with three loops that never rest."""

import os
import platform
import re
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import Browser

LOOPS = 3
# Ends by itself when the measurement is gone, however that ended.
_LOOP = "import os, sys\nwhile os.getppid() == int(sys.argv[1]):\n    sum(range(100_000))"


def in_words(browser: Browser) -> str:
    return f"{_processor()}, {os.cpu_count()} cores, Chromium {browser.version}"


def _processor() -> str:
    listed = Path("/proc/cpuinfo")
    models = re.findall(r"model name\s*: (.+)", listed.read_text(encoding="utf-8")) if listed.exists() else []
    return models[0] if models else platform.processor() or platform.machine()


def can_crowd() -> bool:
    return hasattr(os, "sched_setaffinity")


@contextmanager
def crowded_core() -> Iterator[int]:
    """Keep three loops of ours busy on the last core, and give its number."""
    core = max(os.sched_getaffinity(0))
    loops = [subprocess.Popen([sys.executable, "-c", _LOOP, str(os.getpid())]) for _ in range(LOOPS)]
    for loop in loops:
        os.sched_setaffinity(loop.pid, {core})
    try:
        yield core
    finally:
        for loop in loops:
            loop.kill()
            loop.wait()


@contextmanager
def started_on(core: int | None) -> Iterator[None]:
    """Have what is started meanwhile run on that core alone, and what it starts itself: a browser with all its processes."""
    if core is None:
        yield
        return
    before = os.sched_getaffinity(0)
    os.sched_setaffinity(0, {core})
    try:
        yield
    finally:
        os.sched_setaffinity(0, before)


def renderers(browser: Browser) -> set[int]:
    """Return the processes that hold pages, with their workers and service workers."""
    session = browser.new_browser_cdp_session()
    listed = session.send("SystemInfo.getProcessInfo")["processInfo"]
    session.detach()
    return {process["id"] for process in listed if process["type"] == "renderer"}


def megabytes_of(processes: set[int]) -> float | None:
    """Return the memory of these processes, shared pages by their share, or None where the system does not tell."""
    kilobytes = []
    for process in processes:
        told = Path(f"/proc/{process}/smaps_rollup")
        if told.exists():
            kilobytes += re.findall(r"^Pss:\s+(\d+) kB", told.read_text(encoding="utf-8"), re.MULTILINE)
    return sum(int(one) for one in kilobytes) / 1000 if kilobytes else None
