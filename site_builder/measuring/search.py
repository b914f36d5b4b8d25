"""How long from a key on the find page to the first that it finds, with no signal."""

from collections.abc import Callable

from playwright.sync_api import Browser

from site_builder.commands.serve import Server
from site_builder.harness.phone import PHONE, visit
from site_builder.setting_up.checkout import DIST

# As somebody types them who knows the trade, who does not, and who slips.
TYPED = ("puffy pack", "storage voltage", "swolen", "fuse and lead", "how long to charge", "air travel", "balance plug", "what current")

# Types letter by letter; a letter counts once what it finds stands in the page and is laid out. One that finds nothing is passed over.
TYPE = """async (typed) => {
  const [input, found, taken] = [document.getElementById("find-words"), document.getElementById("found"), []];
  for (const text of typed) {
    for (let letters = 1; letters <= text.length; letters += 1) {
      await new Promise((shown) => requestAnimationFrame(() => setTimeout(shown)));
      const begun = performance.now();
      input.value = text.slice(0, letters);
      const listed = new Promise((changed) => new MutationObserver(changed).observe(found, { childList: true, attributes: true }));
      input.dispatchEvent(new Event("input", { bubbles: true }));
      await Promise.race([listed, new Promise((shown) => setTimeout(shown, 1000))]);
      found.getBoundingClientRect();
      if (!found.hidden) taken.push(performance.now() - begun);
    }
  }
  return taken;
}"""


def finds(browser: Browser, tell: Callable[[str], None]) -> dict[str, list[float]]:
    """Return the milliseconds from each letter to what it finds."""
    with Server(DIST) as server:
        phone = browser.new_context(**PHONE)
        page = phone.new_page()
        visit(page, server.address)
        server.stop()
        tell("letters on the find page")
        page.goto(f"{server.address}find.html")
        page.locator("#find").wait_for()
        taken = page.evaluate(TYPE, TYPED)
        phone.close()
    return {"find, letter to first result": taken}
