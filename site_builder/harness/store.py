"""What the pages keep on a phone, read, written and spoilt from outside: records of IndexedDB, as `web/kept.js` lays them down."""

import json
from typing import Any
from zlib import crc32

from playwright.sync_api import Page

WITHOUT_SCRIPTS = "licences.txt"  # a file of the site
_MOST_TRIES = 1200
_LINES = 2  # the version of a list that is kept thing by thing

# A browser that keeps nothing, as an init script.
REFUSES = "Object.defineProperty(window, 'indexedDB', { get() { throw new DOMException('no', 'SecurityError'); } })"

# Opens the store of the copy of Fieldslate that is open, and hands a transaction's store to `act`.
_IN_STORE = """async ([mode, act, ...given]) => {
  const asked = (request) => new Promise((good, bad) => { request.onsuccess = () => good(request.result); request.onerror = () => bad(request.error); });
  const opening = indexedDB.open(`fieldslate ${new URL("./", location).pathname}`, 1);
  opening.onupgradeneeded = () => opening.result.createObjectStore("kept");
  const database = await asked(opening);
  try {
    const work = database.transaction("kept", mode, { durability: "strict" });
    const done = new Promise((good, bad) => { work.oncomplete = good; work.onabort = bad; });
    const store = work.objectStore("kept");
    const acts = {
      all: async () => {
        const [names, records] = await Promise.all([asked(store.getAllKeys()), asked(store.getAll())]);
        return Object.fromEntries(names.map((name, place) => [name, records[place]]));
      },
      put: (records) => Object.entries(records).map(([name, record]) => { store.put(record, name); }).length,
      empty: () => asked(store.clear()),
    };
    const result = await acts[act](...given);
    await done;
    return result ?? null;
  } finally {
    database.close();
  }
}"""


def records(page: Page) -> dict[str, Any]:
    """Return every record by its name, as it lies in the store."""
    found: dict[str, Any] = page.evaluate(_IN_STORE, ["readonly", "all"])
    return found


def kept(page: Page, name: str) -> Any:
    """Return the value of a record, or None if there is none."""
    record = records(page).get(name)
    if record is None:
        return None
    if record["version"] == _LINES:
        return [json.loads(line.partition(" ")[2]) for line in record["value"].splitlines()]
    return json.loads(record["value"])


def until_kept(page: Page, name: str, record: dict[str, Any]) -> None:
    """Return once a record lies in the store as it is given."""
    for _ in range(_MOST_TRIES):
        if records(page).get(name) == record:
            return
        page.wait_for_timeout(25)  # lets the page go on; nothing depends on how long
    raise AssertionError(f"{name} is not kept.")


def put_records(page: Page, changed: dict[str, Any]) -> None:
    """Lay records into the store as they are given."""
    page.evaluate(_IN_STORE, ["readwrite", "put", changed])


def lay_records(page: Page, address: str, changed: dict[str, Any]) -> None:
    """The same from where no script of ours runs. A page that is still starting would read them, and put aside what is wrong with them."""
    page.goto(address + WITHOUT_SCRIPTS)
    put_records(page, changed)


def forget(page: Page) -> None:
    """Empty the store. What the open page still has in mind, it keeps until it is left."""
    page.evaluate(_IN_STORE, ["readwrite", "empty"])


def sealed(name: str, value: Any, version: int = 1) -> dict[str, Any]:
    """Return a record of a value whose checksum holds. The checksum is CRC-32, which zlib has as well."""
    return _record(name, _text(value), version)


def sealed_list(name: str, things: list[Any]) -> dict[str, Any]:
    """Return a record of a list, a line with a checksum of its own for each thing."""
    texts = [_text(one) for one in things]
    return _record(name, "\n".join(f"{_checksum(name, _LINES, text)} {text}" for text in texts), _LINES)


def _record(name: str, text: str, version: int) -> dict[str, Any]:
    return {"version": version, "checksum": _checksum(name, version, text), "value": text}


def _text(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))


def _checksum(name: str, version: int, text: str) -> int:
    return crc32(f"{name}\n{version}\n{text}".encode())
