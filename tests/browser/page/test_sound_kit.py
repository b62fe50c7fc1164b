"""The sound of the kit: one of three, heard at once, fetched only when chosen, remembered by this browser alone."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from .conftest import OpenPage, violations

FETCHED = "performance.getEntriesByType('resource').map(({name}) => name).filter((name) => name.endsWith('.ogg'))"


def other(page: Page) -> list[str]:
    """Name the sounds that have come and are not the usual kit's."""
    return [name for name in page.evaluate(FETCHED) if "/kit/hall/" in name or "/kit/stage/" in name]


def test_a_kit_is_chosen_by_keyboard_while_it_plays_and_remembered(open_page: OpenPage):
    page = open_page(width=360)
    picker = page.get_by_role("combobox", name="sounds like")
    expect(picker).to_have_value("dry")
    assert picker.locator("option").all_inner_texts() == ["Dry room", "Wooden hall", "Bright stage"]
    page.get_by_role("button", name="Play", exact=True).click()
    expect(page.get_by_role("button", name="Stop", exact=True)).to_be_visible()
    assert other(page) == []
    before = page.url
    picker.focus()
    with page.expect_response(lambda response: "/kit/hall/snare" in response.url):
        page.keyboard.press("ArrowDown")
    expect(picker).to_have_value("hall")
    assert other(page)
    assert not any("/kit/stage/" in name for name in other(page))
    expect(page.get_by_role("button", name="Stop", exact=True)).to_be_visible()
    assert page.url == before, "not in the link"
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    assert violations(page) == []
    page.reload()
    expect(page.get_by_role("combobox", name="sounds like")).to_have_value("hall")


def test_before_anything_is_played_only_the_sounds_of_the_groove_come_and_after_the_page_is_drawn(open_page: OpenPage):
    page = open_page()
    page.wait_for_function(f"() => {FETCHED}.length >= 5")
    page.evaluate("() => new Promise((rest) => requestIdleCallback(rest))")
    parts = sorted(name.rsplit("/", 1)[1].split(".")[0] for name in page.evaluate(FETCHED))
    assert parts == ["click", "hi-hat", "kick", "ride", "snare"]  # there are three more, and the words of the count
    begun, drawn = page.evaluate(
        """() => [performance.getEntriesByType("resource").find(({ name }) => name.includes("/kit/")).startTime,
          performance.getEntriesByName("first-contentful-paint")[0].startTime]"""
    )
    assert begun > drawn
