"""The card in the whole app: an alarm is seen wherever the pilot is, and an ended card leaves no old measurement behind."""

from playwright.sync_api import expect

from site_builder.trying.pilot import club_entries, link_to

ENTRIES = club_entries("brass-heron", "small", "field-battery")


def started_card(page, address: str) -> None:
    page.goto(link_to(address, "charging-card", ENTRIES))
    page.get_by_role("button", name="Start this card").click()


def test_no_card_starts_on_what_was_measured_before_the_last_one(visited, far_page):
    started_card(far_page, visited.address)
    far_page.get_by_role("button", name="End this card").click()
    far_page.get_by_role("button", name="Yes, end it").click()
    expect(far_page.locator(".card-record")).to_be_visible()
    far_page.reload()
    expect(far_page.locator("#answer")).to_have_attribute("data-state", "refusal")
    for name in ("resting_v", "pack_degc", "battery_resting_v"):
        expect(far_page.locator(f"[name={name}]")).to_have_value("")
    expect(far_page.locator("[name=capacity_mah]")).to_have_value("2650")
    expect(far_page.get_by_role("button", name="Start this card")).to_have_count(0)


def test_an_alarm_is_on_the_screen_of_a_pilot_who_has_scrolled_down(visited, far_page):
    far_page.clock.install()
    started_card(far_page, visited.address)
    far_page.locator("[data-step=first-look]").get_by_role("button", name="Start timer").click()
    far_page.evaluate("document.querySelector('[data-step=note]').scrollIntoView()")
    far_page.clock.run_for(6 * 60_000)
    expect(far_page.get_by_role("button", name="I have looked")).to_be_in_viewport()
    expect(far_page.get_by_role("banner").get_by_role("link", name="Pack in trouble")).to_be_in_viewport()
