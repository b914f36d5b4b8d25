"""What is wrong with how a page looks and how it is used: each function returns the faults of the page that is open."""

from playwright.sync_api import Page

from site_builder.harness.phone import SIZE

LARGE_TEXT_PERCENT = 200
OWN_TEXT_PERCENT = 106.25  # of a browser's own size
MOST_COVERED = 0.5
SCREENS = ((320, 100), (320, LARGE_TEXT_PERCENT), (390, LARGE_TEXT_PERCENT))  # width, and size of the text

# Waits until two frames have been drawn: whatever was to be seen by then stands there.
IS_PAINTED = "() => new Promise((seen) => requestAnimationFrame(() => requestAnimationFrame(() => seen())))"

# Sums up what the browser calls layout shifts, those after an input among them: an init script.
# What the browser has noted and not told yet counts too.
NOTE_JUMPS = """{
  let moved = 0;
  const add = (entries) => entries.forEach(({ value }) => (moved += value));
  const watcher = new PerformanceObserver((list) => add(list.getEntries()));
  watcher.observe({ type: "layout-shift", buffered: true });
  Object.defineProperty(window, "jumps", { get: () => (add(watcher.takeRecords()), moved) });
}"""
# One line more in the strip moves the strip's own upper edge, and nothing else.
A_LINE_IN_THE_STRIP = 0.01

LOW_TARGETS = """() => [...document.querySelectorAll("main .button, main input, main select, main summary, .top a, .bottom a, .to-do a, .own-tile")]
  .filter((one) => one.getClientRects().length && !one.matches("[type=checkbox], .skip, [aria-hidden=true]"))  // what lies under the boxes of its cells
  .filter((one) => one.getBoundingClientRect().height < 48)
  .map((one) => one.outerHTML.slice(0, 80))"""

# On a screen of one size: each returns what is wrong there.
TOO_WIDE = "() => document.documentElement.scrollWidth <= document.documentElement.clientWidth ? [] : ['the page scrolls sideways']"

COVERED = f"""() => {{
  const share = [".top", ".top .trouble", ".bottom"].map((bar) => document.querySelector(bar))
    .filter((bar) => ["sticky", "fixed"].includes(getComputedStyle(bar).position))
    .reduce((sum, bar) => sum + bar.offsetHeight, 0) / innerHeight;
  return share > {MOST_COVERED} ? [`the bars cover ${{Math.round(share * 100)}} %`] : [];
}}"""

# A word of a heading whose last letter stands below its first.
SPLIT = """() => {
  const walk = document.createTreeWalker(document.querySelector("h1"), NodeFilter.SHOW_TEXT), range = document.createRange(), found = [];
  const at = (node, letter) => { range.setStart(node, letter); range.setEnd(node, letter + 1); return range.getBoundingClientRect(); };
  for (let node; (node = walk.nextNode());) for (const { 0: word, index } of node.data.matchAll(/[^\\s-]+/g))
    if (at(node, index + word.length - 1).top >= at(node, index).bottom - 1) found.push(`“${word}” of the heading is broken in two`);
  return found;
}"""

# Each sign of common practice whose link goes on in the next line, which would stay empty.
TORN_SIGNS = """() => [...document.querySelectorAll(".by-trade")].filter((sign) => sign.getClientRects().length > 1)
  .map((sign) => `the sign after “${sign.parentElement.innerText.slice(0, 40)}” takes a line more`)"""

# Each number with a no-break space and a unit behind it, that does not stand on one line.
PARTED = """() => {
  const parted = [];
  const walker = document.createTreeWalker(document.getElementById("answer-body"), NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const text = walker.currentNode;
    if (!text.parentElement.checkVisibility()) continue;
    for (const { 0: figure, index } of text.data.matchAll(/[\\d.]+\\u00a0\\S+/g)) {
      const range = new Range();
      range.setStart(text, index);
      range.setEnd(text, index + figure.length);
      if (new Set(Array.from(range.getClientRects(), ({ bottom }) => Math.round(bottom))).size > 1) parted.push(figure);
    }
  }
  return parted.map((figure) => `${figure} is parted`);
}"""

# The words whose colour is less than 7:1 from their ground. It is for colours that the phone forces on a page: axe-core reads there what the
# page had asked for. Words in a drawing have what the style sheet gives them, which tests of its own hold.
FAINT = """() => {
  const parts = (colour) => { const [red, green, blue, alpha = 1] = colour.match(/[\\d.]+/g).map(Number); return { channels: [red, green, blue], alpha }; };
  const onto = (ground, { channels, alpha }) => channels.map((one, place) => one * alpha + ground[place] * (1 - alpha));
  const groundOf = (one) => onto(one.parentElement ? groundOf(one.parentElement) : [255, 255, 255], parts(getComputedStyle(one).backgroundColor));
  const brightness = (channels) => {
    const [red, green, blue] = channels.map((one) => one / 255).map((one) => (one <= 0.04045 ? one / 12.92 : ((one + 0.055) / 1.055) ** 2.4));
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
  };
  const contrast = (one, other) => (Math.max(one, other) + 0.05) / (Math.min(one, other) + 0.05);
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT), within = new Set();
  while (walk.nextNode()) if (walk.currentNode.data.trim()) within.add(walk.currentNode.parentElement);
  return [...within].filter((one) => !one.closest("svg, script, style") && one.checkVisibility()).filter((one) => {
    const ground = groundOf(one), ink = onto(ground, parts(getComputedStyle(one).color));
    return contrast(brightness(ink), brightness(ground)) < 7;
  }).map((one) => `${one.outerHTML.slice(0, 80)} is faint`);
}"""

# Notes at each Tab key what is wrong with the stop that the focus is at: it is not the one whose turn it is, has no outline, or lies
# under a bar.
WATCH_THE_FOCUS = """() => {
  window.stops = [...document.querySelectorAll("a[href], button, input, select, textarea, summary")].filter(
    (stop) => stop.checkVisibility() && !stop.disabled && stop.tabIndex >= 0 && !stop.closest("[inert]"));
  window.stopFaults = [];
  let turn = 0;
  const faultOf = (at) => {
    const name = at.outerHTML.slice(0, 90);
    if (at !== stops[turn]) return `${name} in place of ${stops[turn]?.outerHTML.slice(0, 90)}`;
    const { outlineStyle, outlineWidth } = getComputedStyle(at);
    if (outlineStyle === "none" || outlineWidth === "0px") return `${name} shows no focus`;
    const [{ left, top, width, height }] = at.getClientRects();
    const seen = document.elementFromPoint(left + width / 2, top + height / 2);
    return at === seen || at.contains(seen) ? null : `${name} is hidden`;
  };
  window.noteStop = () => {
    const fault = turn > 0 && faultOf(document.activeElement);
    if (fault) stopFaults.push(fault);
    turn += 1;
  };
  addEventListener("keydown", ({ key }) => key === "Tab" && noteStop(), true);
  return stops.length;
}"""


def jumps(page: Page) -> list[float]:
    """What has moved since the page began to load, with `NOTE_JUMPS` as an init script."""
    moved = page.evaluate("jumps")
    return [moved] if moved >= A_LINE_IN_THE_STRIP else []


def low_targets(page: Page) -> list[str]:
    """What is tapped and is less than 48 pixels high. What stands in a sentence may be."""
    return page.evaluate(LOW_TARGETS)


def faults_of_a_walk(page: Page) -> list[str]:
    """What is wrong on the way of the Tab key from the skip link to the last stop."""
    page.emulate_media(reduced_motion="reduce")
    count = page.evaluate(WATCH_THE_FOCUS)
    page.locator(".skip").focus()
    for _ in range(1, count):
        page.keyboard.down("Tab")  # held, it goes on from stop to stop
    page.keyboard.up("Tab")
    return page.evaluate("(noteStop(), stopFaults)")


def faint_in_forced_colours(page: Page) -> list[str]:
    """The words that can't be read where the phone forces its own colours on the page."""
    page.emulate_media(forced_colors="active")
    found: list[str] = page.evaluate(FAINT)
    page.emulate_media(forced_colors="none")
    return found


def unfold(page: Page) -> None:
    page.evaluate("document.querySelectorAll('details').forEach((folded) => { folded.open = true })")


def show(page: Page, width: int, height: int, text_percent: int) -> None:
    """Make the screen so large, and the text of the page so much of its own size."""
    page.set_viewport_size({"width": width, "height": height})
    page.evaluate("size => { document.documentElement.style.fontSize = size }", f"{OWN_TEXT_PERCENT * text_percent / 100}%")


def show_as_ever(page: Page) -> None:
    page.set_viewport_size(SIZE)
    page.evaluate("document.documentElement.style.fontSize = ''")


def too_wide(page: Page) -> list[str]:
    """The screens on which the page scrolls sideways."""
    return wrong_on_screens(page, TOO_WIDE)


def covered(page: Page) -> list[str]:
    """The screens of which the bars leave less than half to the page."""
    return wrong_on_screens(page, COVERED)


def parted_units(page: Page) -> list[str]:
    """The numbers in the answer's place, all of it unfolded, that are parted from their unit."""
    unfold(page)
    return wrong_on_screens(page, PARTED)


def wrong_on_screens(page: Page, *looks: str) -> list[str]:
    """What is wrong on small screens and in large text, by one look or by several: the page is laid out once for all of them."""
    found = []
    for width, text_percent in SCREENS:
        show(page, width, 844, text_percent)
        faults = page.evaluate(f"[{', '.join(f'...({look})()' for look in looks)}]")
        found += [f"{fault} on {width} pixels, text of {text_percent} %" for fault in faults]
    show_as_ever(page)
    return found
