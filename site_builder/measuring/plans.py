"""How long from a key to the plan of twelve packs on two outputs, of a day and of an evening: the longest that any page works out."""

from collections.abc import Callable

from playwright.sync_api import Browser

from site_builder.commands.serve import Server
from site_builder.harness.content import PAGES
from site_builder.harness.phone import PHONE, visit
from site_builder.harness.pilot import link_to, use_link
from site_builder.measuring.answers import READS_FOR_MS, TYPE
from site_builder.measuring.starts import LIVE_ANSWER
from site_builder.setting_up.checkout import DIST

PACKS = 12
KEYS = 6
# What takes longest: joining, outputs that share their power, and a battery.
ALSO = {
    "day-plan": {
        "joined_by": "either",
        "balance_plugs_into": "series",
        "join_length_m": "0.15",
        "join_area_mm2": "3.3",
        "all_outputs_w": "120",
    }
}


def plans(browser: Browser, tell: Callable[[str], None]) -> dict[str, list[float]]:
    """Return the milliseconds from each key to the plan, by page."""
    taken = {}
    with Server(DIST) as server:
        phone = browser.new_context(**PHONE)
        visit(phone.new_page(), server.address)
        for key in ("day-plan", "going-home"):
            tell(f"twelve packs of {key}")
            page = phone.new_page()
            page.goto(link_to(server.address, key, entries_of_twelve(key)))
            use_link(page)
            page.evaluate(LIVE_ANSWER)
            page.wait_for_timeout(READS_FOR_MS)
            taken[f"{key}, key to plan of {PACKS} packs"] = page.evaluate(TYPE, KEYS)
            page.close()
        phone.close()
    return taken


def entries_of_twelve(key: str) -> dict[str, str]:
    """Return the entries of a page's worked example, its packs again and again, so that some are alike."""
    [example] = [page.worked_example for page in PAGES if page.key == key]
    entries = {name: text for name, text in example.items() if not name.startswith("packs_")} | ALSO.get(key, {})
    given = len({name.split("_")[1] for name in example if name.startswith("packs_")})
    for number in range(1, PACKS + 1):
        like = f"packs_{(number - 1) % given + 1}_"
        entries |= {name.replace(like, f"packs_{number}_", 1): text for name, text in example.items() if name.startswith(like)}
    return entries
