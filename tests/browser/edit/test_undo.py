"""Undo returns every picture and every link; an engine that dies in the middle of an edit loses nothing."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import OpenPage, columns, view_of
from tests.browser.edit.hand import PICTURE, carry, picture, place, seen_again, settled, stages, tap

SLACK_TIDE = (Path(__file__).parents[3] / "examples" / "slack-tide.toml").read_text()
EDITS = 200
AGAIN = 40
MANY = 9
DEADLINE = 20_000
"""Milliseconds after which the page gives up an engine that does not answer (web/engine/client.js)."""
TROUBLE = (
    """() => document.querySelector('gb-notice[data-topic="edit"]').renderRoot.querySelector('[role="alert"] p')"""
)
PLACES = """() => {
  const places = document.querySelector("gb-stages").renderRoot.querySelector("section.chosen gb-lines").places;
  return [...places.renderRoot.querySelectorAll('[role="row"]')].flatMap((row) =>
    [...row.children].map((one) => [row.dataset.surface, Number(one.dataset.at) / 2520, one.classList.contains("stroke")]));
}"""


@pytest.fixture
def slack(open_page: OpenPage) -> Page:
    return open_page("#" + view_of(SLACK_TIDE)["link"])


def anything(page: Page, chance: random.Random) -> None:
    """Do one random thing that a hand can do, and that changes what is shown."""
    spots = page.evaluate(PLACES)
    strokes = [(surface, column) for surface, column, taken in spots if taken]
    free = [(surface, column) for surface, column, taken in spots if not taken]
    deed = chance.choice(["choose", "add", "take", "carry", "key", "switch"])
    remove = page.get_by_role("button", name="Remove")
    if page.locator("gb-stages section").count() > MANY and remove.count():
        remove.click()
    elif deed == "choose":
        others = page.locator("gb-stages section:not(.chosen) h2 button")
        others.nth(chance.randrange(others.count())).click()
        anything(page, chance)
    elif deed == "switch":
        switches = page.get_by_role("switch")
        switches.nth(chance.randrange(switches.count())).click()
    elif deed == "add" or not strokes:
        tap(page, *chance.choice(free))
    elif deed == "take":
        tap(page, *chance.choice(strokes))
    elif deed == "carry":
        surface, column = chance.choice(strokes)
        ends = [(line, at) for line, at in free if line == surface and abs(at - column) < 6]
        carry(page, (surface, column), chance.choice(ends or free))
    else:
        surface, column = chance.choice(strokes)
        loud = page.locator(
            f'section.chosen g.stroke[data-surface="{surface}"][data-at="{int(column * 2520)}"]'
        ).get_attribute("data-dynamic")
        place(page, surface, column).focus()
        page.keyboard.press("1" if loud != "ghost" else "4")


def test_undo_through_many_random_edits_returns_every_picture_and_the_link(slack: Page):
    page = slack
    chance = random.Random(20)
    trouble = page.locator('gb-notice[data-topic="edit"] [role="alert"] p')
    pictures = [picture(page)]
    refused = 0
    while len(pictures) <= EDITS:
        anything(page, chance)
        page.wait_for_function(f"(before) => ({PICTURE})() !== before || ({TROUBLE})()", arg=pictures[-1])
        page.locator('gb-stages[aria-busy="false"]').wait_for()
        if trouble.count():
            refused += 1
            assert picture(page) == pictures[-1]
            page.locator('gb-notice[data-topic="edit"]').get_by_role("button", name="Dismiss").click()
            continue
        pictures.append(picture(page))
    assert refused < EDITS
    for wanted in reversed(pictures[:-1]):
        page.keyboard.press("Control+z")
        seen_again(page, wanted)
    settled(page, SLACK_TIDE)
    expect(page.get_by_role("button", name="Undo")).to_be_disabled()
    for wanted in pictures[1 : AGAIN + 1]:
        page.keyboard.press("Control+Shift+Z")
        seen_again(page, wanted)


def test_undo_and_redo_choose_the_stage_that_they_change(slack: Page):
    page = slack
    tap(page, "kick", 10)  # a touch-up after the last stage
    stages(page, 6)
    page.locator('section[data-stage="0"] h2 button').click()
    tap(page, "kick", 5)
    expect(page.locator('section[data-stage="0"] g.stroke[data-surface="kick"]')).to_have_count(4)
    page.get_by_role("switch", name="stage 2, Embellish").uncheck()
    expect(page.locator('section[data-stage="2"].off')).to_have_count(1)
    page.locator('section[data-stage="3"] h2 button').click()
    for key, stage in (("z", 2), ("z", 0), ("z", 4), ("Shift+Z", 5), ("Shift+Z", 0), ("Shift+Z", 2)):
        page.keyboard.press(f"Control+{key}")
        page.locator(f'section[data-stage="{stage}"].chosen').wait_for()


@pytest.mark.parametrize("end", ["throws", "ends"])
def test_an_engine_that_dies_in_the_middle_of_an_edit_loses_nothing(open_page: OpenPage, end: str):
    page = open_page("#" + view_of(SLACK_TIDE)["link"], own_engine=True)
    tap(page, "kick", 10)
    stages(page, 6)
    (worker,) = page.workers
    # The stop comes with the next question, before it is answered.
    deed = "throw new Error('gone')" if end == "throws" else "self.close()"
    worker.evaluate(f"() => {{ self.onmessage = () => {{ {deed} }}; }}")
    if end == "ends":  # nothing tells the page; only the clock does, after a wait that need not be sat through
        page.clock.install()
        with worker.expect_event("close"):
            tap(page, "kick", 14)
        page.clock.fast_forward(DEADLINE)
    else:
        tap(page, "kick", 14)
    expect(page.locator("section.chosen .summary")).to_have_text("2 added", timeout=60_000)
    stages(page, 6)
    assert columns(page, 5, "kick") == [0, 7, 8, 10, 14]
    page.keyboard.press("Control+z")
    page.keyboard.press("Control+z")
    stages(page, 5)
    settled(page, SLACK_TIDE)
