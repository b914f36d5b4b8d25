"""Random bits are flipped in what the service worker keeps of the built site, one at a time, with no signal.

Whatever is hit: the pages against a fire open, every page opens or says where to turn, and nothing that is damaged is handed out as if it
were whole. A sample runs with the other tests. The whole of it, some 20 minutes on two busy cores, needs the built site and a browser:

    FLIPS=10000 python3 -m site_builder test tests/browser/test_bit_flips.py
"""

import json
import os
import random
import re

import pytest
from playwright.sync_api import expect

from site_builder.building.offline import FIRST_AID
from site_builder.harness.pilot import club_entries, link_to, setting
from tests.browser.phones import visited_phone
from tests.browser.small_site import end_the_service_worker

FLIPS = int(os.environ.get("FLIPS", "60"))
SEED = int(os.environ.get("FLIPS_SEED", "20261128"))
PAGE_EVERY = 25  # so often a browser goes to the page itself, and not only asks for it
LIST_EVERY = 4  # so often the list of the files is hit: it is one of many, and all hangs on it
PAGES_ASKED = 8  # of those that must open where the list is hit
END_EVERY = 10  # so often the service worker begins anew, with nothing in its memory

# The names of all that is kept, each with the number of its bytes.
KEPT = """(async () => {
  const [name] = await caches.keys();
  window.store = await caches.open(name);
  const kept = [];
  for (const request of await store.keys()) {
    const body = await (await store.match(request)).clone().arrayBuffer();
    kept.push([request.url, body.byteLength]);
  }
  return kept;
})()"""

# Flips one bit, remembers the entry as it was, and says how to put it back.
FLIP = """async ([url, place, bit, part]) => {
  const found = await store.match(url);
  const headers = new Headers(found.headers);
  const body = new Uint8Array(await found.arrayBuffer());
  window.before = [url, body.slice(), new Headers(headers)];
  if (part === "lost") return void (await store.delete(url));
  if (part === "headers") headers.set(["vary", "content-type", "content-encoding", "x-odd"][place % 4], ["accept", "text/plain", "gzip", "1"][bit % 4]);
  else if (body.length) body[place] ^= 1 << bit;
  await store.put(url, new Response(body, { headers }));
}"""
PUT_BACK = "async () => { const [url, body, headers] = before; await store.put(url, new Response(body, { headers })); }"

# Asks for files as pages and the engine do; what comes must be whole by its SHA-256, or not come at all.
ASK = """async (files) => {
  const damaged = [];
  for (const { path, sha256, checksSelf } of files) {
    const response = await fetch(path).catch(() => null);
    if (!response?.ok) continue;
    let body = await response.arrayBuffer().catch(() => null);
    if (!body) continue;
    const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", body));
    if (Array.from(digest, (byte) => byte.toString(16).padStart(2, "0")).join("") === sha256) continue;
    if (checksSelf) {  // as the worker that runs Python unpacks it
      const stream = new Blob([body]).stream().pipeThrough(new DecompressionStream("gzip"));
      const unpacked = await new Response(stream).arrayBuffer().catch(() => null);
      if (!unpacked) continue;
      const whole = new Uint8Array(await crypto.subtle.digest("SHA-256", unpacked));
      if (Array.from(whole).join() === window.wholeSnapshot) continue;  // a bit that says nothing, as the date
    }
    damaged.push(path);
  }
  return damaged;
}"""
NOTE_SNAPSHOT = """async (path) => {
  const stream = (await fetch(path)).body.pipeThrough(new DecompressionStream("gzip"));
  window.wholeSnapshot = Array.from(new Uint8Array(await crypto.subtle.digest("SHA-256", await new Response(stream).arrayBuffer()))).join();
}"""


@pytest.fixture(scope="module")
def visited(browser, dist):
    """A phone of its own: what it keeps is damaged."""
    with visited_phone(browser, dist) as visited:
        yield visited


@pytest.fixture
def files(dist) -> list[dict]:
    script = (dist / "service-worker.js").read_text(encoding="utf-8")
    return json.loads(script.removeprefix("const BUILT = ").partition(";\n")[0])["files"]


def test_no_flipped_bit_closes_a_page_or_hands_out_what_is_damaged(visited, files):
    chance = random.Random(SEED)
    page, other = visited.phone.new_page(), visited.phone.new_page()
    page.goto(visited.address + "sources.html")
    kept = page.evaluate(KEPT)
    [snapshot] = [file["path"] for file in files if file.get("checksSelf")]
    page.evaluate(NOTE_SNAPSHOT, snapshot)
    assert len(kept) > len({file["sha256"] for file in files})  # the files, and the lists
    by_hash = {file["sha256"]: file for file in files}
    lists = [entry for entry in kept if "list-in-use" in entry[0]]
    pages = [file for file in files if file["path"].endswith(".html")]
    first_aid = [file for file in files if file["path"] in FIRST_AID]
    for turn in range(FLIPS):
        url, size = chance.choice(lists if turn % LIST_EVERY == 0 else kept)
        part = chance.choices(["body", "headers", "lost"], [8, 1, 1])[0]
        flip = [url, chance.randrange(max(size, 1)), chance.randrange(8), part]
        page.evaluate(FLIP, flip)
        if "list-in-use" in url or turn % END_EVERY == 0:
            end_the_service_worker(page)
        hit = by_hash.get(url.rpartition("/")[2])
        asked = [*first_aid, *([hit] if hit else chance.sample(pages, PAGES_ASKED))]
        assert page.evaluate(ASK, asked) == [], flip
        must_come = [file["path"] for file in asked if file is not hit or file in first_aid]
        came = page.evaluate("paths => Promise.all(paths.map(path => fetch(path).then(r => r.ok, () => false)))", must_come)
        assert came == [True] * len(must_come), flip
        if turn % PAGE_EVERY == 0:
            path = hit["path"] if hit and hit["path"].endswith(".html") else chance.choice(FIRST_AID)
            other.goto(visited.address + path)
            assert other.get_by_role("heading", level=1).count() == 1, flip
            assert other.get_by_role("link", name="Pack in trouble").count() >= 1, flip
        page.evaluate(PUT_BACK)
    page.close()
    other.close()


ENTRIES = club_entries("brass-heron", "small", "field-battery")


@pytest.mark.parametrize(
    "part",
    [
        "snapshot.bin",
        "pyodide.asm.wasm",
        "pyodide.asm.mjs",
        "start.mjs",
        "worker.js",
        "page.js",
        "starting.js",
        "chunk.js",
        "charge-settings.html",
    ],
)
def test_a_calculator_with_a_flipped_bit_gives_the_right_number_or_none(visited, files, part):
    chance = random.Random(f"{SEED} {part}")
    page = visited.phone.new_page()
    page.goto(visited.address + "sources.html")
    page.evaluate(KEPT)
    for hit in [file for file in files if re.sub("-[0-9A-Z]{8}", "", file["path"].rpartition("/")[2]) == part]:
        size = page.evaluate("async (name) => (await (await store.match('.stored/' + name)).arrayBuffer()).byteLength", hit["sha256"])
        page.evaluate(FLIP, [f"{visited.address}.stored/{hit['sha256']}", chance.randrange(size), chance.randrange(8), "body"])
        other = visited.phone.new_page()
        other.goto(link_to(visited.address, "charge-settings", ENTRIES))
        answered = other.locator("#answer[data-state=answer]")
        cannot = other.locator("#engine-state", has_text="could not start")
        not_here = other.get_by_role("heading", name="This page is not on this phone")
        stands_still = other.locator("#not-started").filter(visible=True)
        expect(answered.or_(cannot).or_(not_here).or_(stands_still).first).to_be_visible()
        if answered.count():
            expect(setting(other, "Charge current")).to_contain_text("2.6\u00a0A")
        elif not_here.count() == 0:
            expect(other.get_by_text("not your numbers").first).to_be_visible()
        page.evaluate(PUT_BACK)
        other.close()
    page.close()
