"""The chosen stage on a staff: all its strokes, as wide as there is room, lit as it sounds, and nothing but a drawing."""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import Page, expect

from .conftest import OpenPage, view_of

SLACK_TIDE = (Path(__file__).parents[3] / "examples/slack-tide.toml").read_text()
GROUP = "gb-staff g.stroke"


def ids(page: Page) -> list[str]:
    found = page.locator(GROUP).evaluate_all("(all) => all.map((one) => one.dataset.id)")
    return sorted(found)


def switch_on(page: Page) -> None:
    page.get_by_role("checkbox", name="Staff", exact=True).check()
    expect(page.locator("gb-staff svg")).to_be_visible()


def test_the_staff_has_the_strokes_of_the_chosen_stage_and_follows_an_edit(open_page: OpenPage):
    view = view_of(SLACK_TIDE)
    page = open_page("#" + view["link"])
    switch_on(page)
    assert ids(page) == sorted(stroke["id"] for stroke in view["stages"][4]["strokes"])
    page.locator('section[data-stage="1"] h2 button').click()
    kept = view["stages"][1]["strokes"]
    expect(page.locator(GROUP)).to_have_count(len(kept))
    page.locator('section[data-stage="1"]').get_by_role("switch").uncheck()
    expect(page.locator(f'{GROUP}[data-id="0/snare@1/4"]')).to_have_count(1)
    page.get_by_role("checkbox", name="with counts").uncheck()
    expect(page.locator("gb-staff svg text.count")).to_have_count(0)
    page.get_by_role("checkbox", name="Staff", exact=True).uncheck()
    expect(page.locator("gb-staff svg")).to_have_count(0)


def test_a_narrow_page_has_a_narrow_staff_that_lights_as_it_sounds_and_is_remembered(open_page: OpenPage):
    page = open_page("#" + view_of(SLACK_TIDE)["link"], width=1280)
    switch_on(page)
    before = page.locator("gb-staff svg").get_attribute("width")
    page.set_viewport_size({"width": 360, "height": 800})
    expect(page.locator(f'gb-staff svg:not([width="{before}"])')).to_be_visible()
    page.locator("gb-transport").get_by_role("button", name="Play", exact=True).click()
    lit = page.locator(f"{GROUP}.lit")
    expect(lit.first).to_be_attached()
    page.locator("gb-transport").get_by_role("button", name="Stop").click()
    expect(lit).to_have_count(0)
    assert page.evaluate("document.documentElement.scrollWidth") == 360
    assert page.locator("gb-staff svg").evaluate("(svg) => svg.getBoundingClientRect().right") <= 360
    assert page.evaluate("localStorage.getItem('groundbeat.staff')") == '{"on":true,"counts":true,"sticking":false}'


def test_text_of_a_link_stays_text_and_what_is_no_drawing_is_not_let_in(open_page: OpenPage):
    title = "<script>window.harm = 1</script>"
    page = open_page("#" + view_of(SLACK_TIDE.replace('"Slack Tide"', f'"{title}"'))["link"])
    switch_on(page)
    assert title in page.locator("gb-staff svg > title").evaluate("(one) => one.textContent")
    for inside in (
        "<script>harm = 1</script>",
        "<foreignObject/>",
        '<use href="staff.svg#a"/>',
    ):
        page.get_by_role("checkbox", name="Staff", exact=True).uncheck()
        page.locator("gb-staff").evaluate(
            """(staff, svg) => Object.defineProperty(staff, "find",
                 { configurable: true, get: () => async () => { window.asked = (window.asked ?? 0) + 1; return { svg }; }, set: () => {} })""",
            f'<svg xmlns="http://www.w3.org/2000/svg">{inside}</svg>',
        )
        page.get_by_role("checkbox", name="Staff", exact=True).check()
        expect(page.locator("gb-staff").get_by_role("alert")).to_contain_text("no staff")
        expect(page.locator("gb-staff svg")).to_have_count(0)
    assert page.evaluate("[asked, window.harm ?? null]") == [3, None]
