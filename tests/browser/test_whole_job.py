"""The whole job with the keyboard alone: Slack Tide from an empty page, sent as a link, read on a phone.

Nothing is clicked and nothing of the page's inside is reached for: Tab, arrows, Enter, digits and text only. What the
page has made is compared with what the command line says of the same beat.
"""

from __future__ import annotations

import json

from playwright.sync_api import Browser, Page, expect

from groundbeat.bridge.door import answer
from groundbeat.codec.account import account
from groundbeat.codec.link import read_link, write_link
from groundbeat.variation.stack import grow

COLUMN = 2520
WHERE = """() => {
  let one = document.activeElement;
  while (one?.shadowRoot?.activeElement) one = one.shadowRoot.activeElement;
  if (!one) return "";
  const labels = one.labels ? [...one.labels].map((label) => label.textContent).join(" ") : "";
  const name = one.getAttribute("aria-label") || labels || one.textContent || "";
  return `${one.localName}: ${name.trim().replace(/\\s+/g, " ")}`;
}"""
PLACE = """() => {
  let one = document.activeElement;
  while (one?.shadowRoot?.activeElement) one = one.shadowRoot.activeElement;
  return [one?.closest('[role="row"]')?.dataset.surface ?? "", Number(one?.dataset.at ?? -1)];
}"""


def tab_to(page: Page, name: str, limit: int = 120) -> None:
    """Press Tab until what has the keyboard is called so."""
    seen = []
    for _ in range(limit):
        here = page.evaluate(WHERE)
        if name in here:
            return
        seen.append(here)
        page.keyboard.press("Tab")
    raise AssertionError(f"Tab never came to {name!r}; it came by {seen}")


def walk_to(page: Page, surface: str, column: int) -> None:
    """Walk over the places with the arrows until the one that is wanted has the keyboard."""
    for _ in range(60):
        here, at = page.evaluate(PLACE)
        if (here, at) == (surface, column * COLUMN):
            return
        if here != surface:
            order = ["hi-hat", "snare", "kick"]
            page.keyboard.press("ArrowDown" if order.index(here) < order.index(surface) else "ArrowUp")
        else:
            page.keyboard.press("ArrowRight" if at < column * COLUMN else "ArrowLeft")
    raise AssertionError(f"the arrows never came to {surface}, column {column}: {page.evaluate(PLACE)}")


def strokes(page: Page) -> int:
    return page.locator("section.chosen gb-lines g.stroke").count()


def write_base(page: Page) -> None:
    """Write hi-hat, snare and kick on the empty beat, and accent the snare."""
    tab_to(page, "hi-hat, 1, empty")
    count = 0
    for surface, columns in (("hi-hat", range(0, 16, 2)), ("snare", (4, 12)), ("kick", (0, 7, 8))):
        for column in columns:
            walk_to(page, surface, column)
            page.keyboard.press("Enter")
            count += 1
            expect(page.locator("section.chosen gb-lines g.stroke")).to_have_count(count)
    for column in (12, 4):
        walk_to(page, "snare", column)
        page.keyboard.press("4")
        expect(
            page.locator(f'section.chosen g.stroke[data-at="{column * COLUMN}"][data-surface="snare"]')
        ).to_have_attribute("data-dynamic", "accent")


def next_variation(page: Page, heading: str, stages: int) -> None:
    """Take a kind from the list below the sentence, and keep it."""
    tab_to(page, f"button: {heading}")
    page.keyboard.press("Enter")
    expect(page.locator("gb-stages section")).to_have_count(stages)
    keep(page)


def keep(page: Page) -> None:
    button = page.get_by_role("button", name="Keep", exact=True)
    if not button.count():
        return
    tab_to(page, "button: Keep")
    page.keyboard.press("Enter")
    expect(button).to_have_count(0)


def test_slack_tide_is_made_by_the_keyboard_alone_and_read_on_a_phone(whole_chromium: Browser, site: str, slack_tide):
    context = whole_chromium.new_context(viewport={"width": 1280, "height": 900}, service_workers="block")
    page = context.new_page()
    page.goto(site)
    page.locator("gb-starting").wait_for(state="detached", timeout=60_000)
    tab_to(page, "button: New beat")
    page.keyboard.press("Enter")
    expect(page.locator("gb-stages section")).to_have_count(1)
    write_base(page)
    name_the_beat(page, "Slack Tide", "92")
    next_variation(page, "Displace", 2)
    next_variation(page, "Embellish", 3)
    change_except(page, "4a")
    write_note(page, "Under the knuckles.")
    next_variation(page, "Ostinato", 4)
    next_variation(page, "Orchestrate", 5)
    change_then(page)

    expected = json.loads(json.dumps(account(slack_tide, grow(slack_tide))))
    expect(page).to_have_url(f"{site}#{write_link(slack_tide)}", timeout=10_000)
    made = read_link(page.url).groove
    assert json.loads(json.dumps(account(made, grow(made)))) == expected
    link = page.url
    context.close()

    phone = whole_chromium.new_context(viewport={"width": 360, "height": 740}, service_workers="block", has_touch=True)
    page = phone.new_page()
    page.goto(link)
    page.locator("gb-starting").wait_for(state="detached", timeout=60_000)
    expect(page.locator("gb-stages section")).to_have_count(5)
    view = json.loads(answer(json.dumps({"ask": "open", "text": link})))
    drawn = page.locator("section.chosen gb-lines g.stroke").evaluate_all("(all) => all.map((one) => one.dataset.id)")
    assert sorted(drawn) == sorted(stroke["id"] for stroke in view["stages"][4]["strokes"])
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    phone.close()


def name_the_beat(page: Page, title: str, tempo: str) -> None:
    """Open the panel of the beat and write its title and goal."""
    tab_to(page, "The beat")
    page.keyboard.press("Enter")
    tab_to(page, "input: Title")
    page.keyboard.type(title)
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text(title)
    tab_to(page, "input: Goal tempo")
    page.keyboard.press("Control+a")
    page.keyboard.type(tempo)
    page.keyboard.press("Tab")
    expect(page.locator("main")).to_contain_text(f"of {tempo} bpm")


def change_except(page: Page, places: str) -> None:
    """The exception is not in the sentence yet; it is one of the words offered beside it."""
    tab_to(page, "leave some places out")
    page.keyboard.press("Enter")
    tab_to(page, "or write the places left out")
    page.keyboard.press("Control+a")
    page.keyboard.type(places)
    page.keyboard.press("Enter")
    expect(page.get_by_text("except the a of 4").first).to_be_visible()
    keep(page)


def write_note(page: Page, text: str) -> None:
    tab_to(page, "textarea: Your note")
    page.keyboard.type(text)
    page.keyboard.press("Tab")
    for _ in range(100):
        if read_link(page.url).groove.variations[-1].note == text:
            return
        page.wait_for_timeout(100)
    raise AssertionError(f"the address never told the note; it reads {read_link(page.url).groove.variations[-1]}")


def change_then(page: Page) -> None:
    """Let the beats of the riding hand go to the bell."""
    tab_to(page, "some of it elsewhere")
    page.keyboard.press("Enter")
    tab_to(page, "select: where those are played")
    page.keyboard.type("the ride bell")
    expect(page.get_by_text("the beats on the ride bell").first).to_be_visible()
    keep(page)
