"""What a pilot does: opens a page, finds an entry by its label, types it, and reads a setting by its title."""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from datetime import UTC, datetime
from typing import Literal
from urllib.parse import urlencode

from playwright.sync_api import Locator, Page, expect

from calc.answering import calculator
from calc.inputs.fields import Kind, entries_of
from site_builder.harness.content import CLUB
from site_builder.harness.phone import PATIENCE_MS, wait_for_engine
from site_builder.reading.club import merged, read_club
from site_builder.reading.pages import Page as ContentPage

MOST_TAPS = 5
PAUSE_MS = 300  # a little longer than form_keeping.js waits for the next key
SECOND_TAP_MS = 700  # for so long card_steps.js takes a tap for a second one of cold fingers

# Gives each field its text, in their order, and lets the form hear of each as a key does.
_LAY = """entries => {
  const { elements } = document.getElementById("entries");
  for (const [name, text] of Object.entries(entries)) {
    const field = elements.namedItem(name);
    field.value = text;
    if (field.value !== text) throw new Error(`${name} cannot be ${text}`);
    field.dispatchEvent(new Event("input", { bubbles: true }));
  }
}"""

ASKED = entries_of(calculator("charge_settings").Inputs)


def club_entries(pack: str, charger: str, supply: str) -> dict[str, str]:
    """Return the entries of one charge with the club's things, as a pilot would type them; what no charge asks is left out."""
    entries = merged({"pack": pack, "charger": charger, "supply": supply}, read_club(CLUB))
    return {name: text for name, text in entries.items() if name in ASKED}


def open_page(page: Page, address: str, opened: ContentPage) -> None:
    """Open a page, and wait for its calculator if it has one."""
    page.goto(address + opened.address)
    if opened.calculator:
        wait_for_engine(page)


def link_to(address: str, page: str, entries: Mapping[str, str], read_at: datetime | None = None) -> str:
    """Return a link with entries, whose readings were taken at a moment of the phone's clock, or now."""
    moment = (read_at or datetime.now(UTC)).astimezone(UTC)
    return f"{address}{page}.html?{urlencode({**entries, 'measured_at': f'{moment:%Y-%m-%dT%H:%M:%SZ}'})}"


def open_with(page: Page, address: str, key: str, entries: Mapping[str, str], read_at: datetime | None = None) -> None:
    """Open a page by a link with entries, and take them over as one's own."""
    page.goto(link_to(address, key, entries, read_at))
    use_link(page)


def use_link(page: Page) -> None:
    page.get_by_role("button", name="Use these entries").click()


def entry(page: Page, name: str) -> Locator:
    """Return the field whose label a pilot reads, unit and all; of readings the one text, which boxes may lie over."""
    asked = ASKED[name]
    if asked.kind is Kind.READINGS:
        return page.locator(f"[name={name}]")
    words = [asked.label, asked.quantity.sign if asked.quantity else "", "if known" if asked.optional else ""]
    role: Literal["combobox", "textbox"] = "combobox" if asked.kind is Kind.CHOICE else "textbox"
    return page.get_by_role(role, name=" ".join(word for word in words if word), exact=True)


def fold(page: Page, title: str) -> Locator:
    """Return the line that a pilot taps to fold a group of entries in or out."""
    return page.locator("summary").filter(has=page.get_by_text(title, exact=True))


def clear(page: Page, what: str) -> None:
    """Tap what clears, "Clear everything" say, behind the line on which it stands."""
    button = page.get_by_role("button", name=what)
    tap_until_seen(fold(page, "Clear"), button)
    button.click()


def type_entries(page: Page, entries: Mapping[str, str]) -> None:
    """Type each entry into its field, open the group that it is folded away in, and pause: then the page keeps what it has."""
    page.locator(".form-actions").wait_for(timeout=PATIENCE_MS)  # they are there once the page heeds what is typed
    for name, text in entries.items():
        if name not in ASKED:
            continue  # the club's things have more on them than one page asks
        field = entry(page, name)
        if page.locator(f"[data-readings][hidden] #entry-{name}").count():
            page.get_by_role("button", name="Read again").click()
        unfold(page, name)
        if page.locator(f"[data-taps={name}]").count():
            tap_kind(page, name, text)
        elif ASKED[name].kind is Kind.CHOICE:
            field.select_option(text)
        elif ASKED[name].kind is Kind.READINGS:
            type_readings(page, name, text)
        else:
            field.fill(text)
    pause(page)


def lay_entries(page: Page, entries: Mapping[str, str]) -> None:
    """Put entries into the form in one go, and pause: for a test of what comes of them, where the typing is looked at elsewhere."""
    page.locator(".form-actions").wait_for(timeout=PATIENCE_MS)
    page.evaluate(_LAY, {name: text for name, text in entries.items() if name in ASKED})
    pause(page)


def unfold(page: Page, name: str) -> None:
    """Open the group that an entry is folded away in."""
    shown = page.locator(f".entry:has(> #entry-{name}), .entry:has(> div > #entry-{name})")
    tap_until_seen(page.locator(f"details:not([open]):has(#entry-{name}) > summary"), shown)


def tap_until_seen(line: Locator, behind: Locator) -> None:
    """Tap a line to see what is behind it. A tap goes astray where an answer comes at that moment and moves the line away: then once more."""
    for _ in range(MOST_TAPS):
        if behind.is_visible():
            return
        line.click()
    expect(behind).to_be_visible()


def cell_boxes(page: Page, name: str) -> Locator:
    """Return the boxes in which the readings of a pack's cells are typed; none where its cells are not known."""
    return page.locator(f".entry[data-in-boxes]:has([name={name}]) .cell-boxes input")


def type_readings(page: Page, name: str, text: str) -> None:
    """Type readings: what is listed for the cells into their boxes, in one go, and what is the whole pack's in its own way."""
    boxes, field = cell_boxes(page, name), page.locator(f"[name={name}]")
    if boxes.count() > 1 and " " not in text and text:
        page.locator(f".entry:has([name={name}])").get_by_role("button", name="The whole pack instead").click()
    if boxes.count() == 0:
        field.fill(text)
        field.blur()
    elif text:
        boxes.first.fill(text)
    else:
        for box in boxes.all():
            box.fill("")


def tap_kind(page: Page, name: str, kind: str) -> None:
    """Tap the kind of the pack, or take it from the list behind the last button."""
    row = page.locator(f"[data-taps={name}]")
    button = row.locator(f"[value={kind}]")
    if button.count():
        button.click()
    else:
        row.get_by_role("button", name="Others").click()
        entry(page, name).select_option(kind)


def pause(page: Page) -> None:
    """Type nothing for so long that the page keeps what was typed. The page's own clock counts, so its own timer ends before."""
    page.evaluate("(ms) => new Promise((go_on) => setTimeout(go_on, ms))", PAUSE_MS)


def start_card(page: Page) -> None:
    """Start the card that is offered, and see it stand at its first step: then it is kept."""
    page.get_by_role("button", name="Start this card").click()
    page.locator("#card-now-title").wait_for(timeout=PATIENCE_MS)


def run_on(page: Page, ms: float) -> None:
    """Set the page's clock that only runs on ahead; the one on the wall stands."""
    page.evaluate("ms => { const now = performance.now.bind(performance); performance.now = () => now() + ms; }", ms)


def stand_still(page: Page) -> None:
    """Stop the page's clock that only runs on: on however slow a machine, a second tap comes at once."""
    page.evaluate("{ const now = performance.now(); performance.now = () => now; }")


@contextmanager
def resting_finger(page: Page) -> Iterator[None]:
    """Put a finger down where the mouse is, and let it rest there, short of what is no tap any more on however slow a machine; then take it up."""
    page.mouse.down()
    page.evaluate("window.resting = setInterval(() => dispatchEvent(new PointerEvent('pointerdown', { pointerType: 'mouse' })), 100)")
    yield
    page.evaluate("clearInterval(window.resting)")
    page.mouse.up()


def tick_steps(page: Page, until: str, count: str = "") -> None:
    """Tick step after step of the open card until that of the title comes forward, and see each kept. `count` is what the charger shows."""
    heading = page.locator("#card-now-title")
    while (title := heading.text_content()) != until:
        if count and page.locator("#card-count").count():
            page.locator("#card-count").fill(count)
        run_on(page, SECOND_TAP_MS)
        page.locator(".card-tick").click()
        expect(heading).not_to_have_text(str(title), timeout=PATIENCE_MS)


def end_card(page: Page) -> None:
    """End the open card, and see its record beside those of others that ended in the last minute."""
    ended = page.locator(".card-ended")
    others = ended.count()
    page.locator(".card-foot > summary").click()
    page.get_by_role("button", name="End this card", exact=True).click()
    page.get_by_role("button", name="Yes, end it").click()
    ended.nth(others).wait_for(timeout=PATIENCE_MS)


def setting(page: Page, title: str) -> Locator:
    """Return the setting of that title, with its figure and its limit."""
    return page.locator(".setting").filter(has=page.locator(".setting-title").get_by_text(title, exact=True))
