"""Measure the start of the pages and the bytes of a first visit, in one run and one browser: ratios are the result.

Each round takes, in turn: our icon alone, a bare Pyodide boot (the same files and one line of Python in a module worker, from
the host), and our own page on a second visit with the host stopped, from its navigation on. Then 200 questions go through the
worker that the page uses.
"""

import argparse
import json
import os
import platform
import re
import statistics
import time
from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright

from calc.answering import answer
from site_builder.building.offline import first_visit_bytes
from site_builder.commands import build
from site_builder.commands.serve import Response, Server
from site_builder.engine.answer import respond
from site_builder.setting_up.browser import find_browser
from site_builder.setting_up.checkout import CACHE, DIST
from site_builder.setting_up.running import say
from site_builder.trying.phone import PHONE, open_browser, visit
from site_builder.trying.pilot import club_entries, link_to

ENTRIES = club_entries("slate-badger", "large", "field-battery") | {
    "stop_after_min": "30",
    "wanted_percent": "80",
    "other_rate_c": "2",
    "planned_charges": "4",
}
ASKED = ("charge_settings", "charge_course", "supply_day")
CALLS = 200

FIRST_PAINT = "performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? null"
# Polled by the page's own frames: what the pilot sees, and no eval, which our policy forbids.
LIVE_ANSWER = """() => new Promise((resolve) => {
  const look = () => document.getElementById("answer").dataset.state === "answer" ? resolve(performance.now()) : requestAnimationFrame(look);
  look();
})"""
BARE_WORKER = """self.onmessage = async ({ data: engine }) => {
  const { loadPyodide } = await import(`${engine}pyodide.mjs`);
  const python = await loadPyodide({ indexURL: engine, packageBaseUrl: engine });
  self.postMessage(python.runPython("1 + 1"));
}"""
BARE_BOOT = """([code, engine]) => new Promise((resolve) => {
  const begun = performance.now();
  const worker = new Worker(code, { type: "module" });
  worker.onmessage = () => {
    worker.terminate();
    resolve(performance.now() - begun);
  };
  worker.postMessage(engine);
})"""
ASK_WORKER = """async ([code, engine, calculator, entries, calls]) => {
  const worker = new Worker(code, { type: "module" });
  const next = () => new Promise((resolve) => (worker.onmessage = ({ data }) => resolve(data)));
  const booted = next();
  worker.postMessage({ kind: "boot", engine });
  await booted;
  const took = [];
  for (let id = 1; id <= calls; id++) {
    const asked = { id, calculator, entries: { ...entries, resting_v: String(14.4 + id / 200) } };
    const begun = performance.now();
    const answered = next();
    worker.postMessage(asked);
    const { kind } = await answered;
    if (kind !== "answer") throw new Error(kind);
    took.push(performance.now() - begun);
  }
  worker.terminate();
  return took;
}"""


def run(arguments: list[str]) -> int:
    parser = argparse.ArgumentParser(prog="python3 -m site_builder bench", description=__doc__)
    parser.add_argument("--rounds", type=int, default=5, help="rounds of each start, 5 if not given")
    parser.add_argument("--json", type=Path, default=CACHE / "bench.json", help="where the figures go")
    asked = parser.parse_args(arguments)

    program = find_browser()
    build.run([])
    with sync_playwright() as playwright:
        browser = open_browser(playwright, program)
        found = {"machine": _machine(browser), "bytes of a first visit": {"built": first_visit_bytes(DIST), "sent": _bytes_sent(browser)}}
        found["ms"] = _starts(browser, asked.rounds) | _calls(browser)
        browser.close()
    asked.json.parent.mkdir(parents=True, exist_ok=True)
    asked.json.write_text(json.dumps(found, indent=2) + "\n", encoding="utf-8")
    _print(found)
    return 0


def _machine(browser: Browser) -> str:
    return f"{_processor()}, {os.cpu_count()} cores, Chromium {browser.version}"


def _processor() -> str:
    listed = Path("/proc/cpuinfo")
    models = re.findall(r"model name\s*: (.+)", listed.read_text(encoding="utf-8")) if listed.exists() else []
    return models[0] if models else platform.processor() or platform.machine()


class _CountingServer(Server):
    """A host that adds up the bytes that it sends."""

    sent = 0

    def response(self, address: str) -> Response:
        response = super().response(address)
        self.sent += len(response.body)
        return response


def _bytes_sent(browser: Browser) -> int:
    phone = browser.new_context(**PHONE)
    with _CountingServer(DIST) as server:
        visit(phone.new_page(), server.address)
        phone.close()
        return server.sent


def _starts(browser: Browser, rounds: int) -> dict[str, list[float]]:
    taken: dict[str, list[float]] = {"our icon alone, first paint": [], "first paint": [], "live answer": [], "bare Pyodide boot": []}
    with Server(DIST) as server, Server(DIST, tamper=_with_bare_worker) as bare:
        phone = browser.new_context(**PHONE)
        visit(phone.new_page(), server.address)
        for _ in range(rounds):
            server.start()
            fresh = browser.new_context(**PHONE, service_workers="block")
            page = fresh.new_page()
            page.goto(server.address + "icons/icon.svg")
            taken["our icon alone, first paint"].append(_first_paint(page))
            page.goto(bare.address + "pack-in-trouble.html")
            taken["bare Pyodide boot"].append(page.evaluate(BARE_BOOT, [_worker(bare.address), _engine(bare.address)]))
            fresh.close()
            server.stop()
            page = phone.new_page()
            page.goto(link_to(server.address, "charge-settings", ENTRIES))
            taken["live answer"].append(page.evaluate(LIVE_ANSWER))
            taken["first paint"].append(_first_paint(page))
            page.close()
        phone.close()
    return taken


def _with_bare_worker(path: str) -> bytes | None:
    return BARE_WORKER.encode() if path.endswith("/worker.js") else None


def _worker(address: str) -> str:
    return f"{address}{next(DIST.glob('code-*')).name}/worker.js"


def _engine(address: str) -> str:
    return f"{address}{next(DIST.glob('engine-*')).name}/"


def _first_paint(page: Page) -> float:
    while (painted := page.evaluate(FIRST_PAINT)) is None:
        page.wait_for_timeout(10)
    return painted


def _calls(browser: Browser) -> dict[str, list[float]]:
    taken = {}
    with Server(DIST) as server:
        phone = browser.new_context(**PHONE, service_workers="block")
        page = phone.new_page()
        page.goto(server.address + "pack-in-trouble.html")
        for key in ASKED:
            asked = [_worker(server.address), _engine(server.address), key, ENTRIES, CALLS]
            taken[f"{key}, asked in the browser"] = page.evaluate(ASK_WORKER, asked)
            for what, work in (("answered and rendered in CPython", respond), ("answered in CPython", answer)):
                taken[f"{key}, {what}"] = [_timed(work, key, call) for call in range(CALLS)]
        phone.close()
    return taken


def _timed(work, key: str, call: int) -> float:
    entries = ENTRIES | {"resting_v": str(14.4 + call / 200)}
    begun = time.perf_counter()
    work(key, entries)
    return (time.perf_counter() - begun) * 1000


def _print(found: dict) -> None:
    say(found["machine"])
    built, sent = found["bytes of a first visit"].values()
    say(f"a first visit: {built / 1e6:.2f} MB built, {sent / 1e6:.2f} MB sent, by a host that compresses nothing")
    bare = statistics.median(found["ms"]["bare Pyodide boot"])
    say(f"{'':54} {'n':>4} {'median':>10} {'range':>18} {'p95':>10} {'of a bare boot':>15}")
    for name, values in found["ms"].items():
        middle, late = statistics.median(values), sorted(values)[int(0.95 * (len(values) - 1))]
        span = f"{min(values):.1f} to {max(values):.1f}"
        say(f"{name:54} {len(values):4} {middle:7.1f} ms {span:>18} {late:7.1f} ms {middle / bare:15.3f}")
