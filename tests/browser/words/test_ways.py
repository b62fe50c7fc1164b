"""A second way is tried from a stage and kept beside the first: with the keyboard, by ear, and over a reload."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import another_tab, violations

from .conftest import READY, SLACK_TIDE, OpenPage, address_is, choose, edited, focused, tab_to, view_of

FORKED = ({"ask": "fork", "after": 2}, {"ask": "add", "kind": "displace", "after": 2})
"""Two ways: on the page one stage after stage 2, kept beside it the two of the example."""

EXCHANGED = {"ask": "exchange", "way": 0}


def fork(page: Page, stage: int = 2) -> None:
    choose(page, stage)
    page.get_by_role("button", name="Try another way from here").click()
    expect(page.get_by_role("heading", name="Other ways")).to_be_focused()


def add(page: Page, kind: str = "displace") -> None:
    page.locator(f'gb-next button[data-kind="{kind}"]').click()
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.get_by_role("button", name="Keep", exact=True)).to_have_count(0)


def stages(page: Page) -> list[str]:
    return page.locator("gb-stages section h2 button").all_inner_texts()


def names(page: Page) -> list[str]:
    fields = page.get_by_role("textbox", name="Name of")
    return fields.evaluate_all("(all) => all.map((one) => one.value)")


def saved(page: Page) -> str:
    """The groove file as Share would save it."""
    text: str = page.locator("gb-share").evaluate("(share) => share.document")
    return text


def test_a_way_is_made_compared_taken_named_and_deleted_with_the_keyboard(open_page: OpenPage, link: str):
    page = open_page(link)
    first = view_of(SLACK_TIDE)
    choose(page, 2)
    page.locator("gb-sentence h2").focus()
    tab_to(page, "Try another way from here")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="Other ways")).to_be_focused()
    expect(page.locator("gb-ways").get_by_role("status")).to_have_text(
        "What came after is kept as Way 1. Add what comes here instead."
    )
    assert len(stages(page)) == 3
    forked = edited(SLACK_TIDE, FORKED[0])
    address_is(page, forked)
    expect(page.locator("gb-ways li")).to_contain_text(f"From stage 2: {first['stages'][3]['plain']}")

    tab_to(page, "Displace")
    page.keyboard.press("Enter")
    expect(page.get_by_role("button", name="Keep", exact=True)).to_be_focused()
    page.keyboard.press("Enter")
    grown = edited(SLACK_TIDE, *FORKED)
    address_is(page, grown)

    tab_to(page, "Take this way: Way 1")
    page.keyboard.press("Space")
    address_is(page, edited(SLACK_TIDE, *FORKED, EXCHANGED))
    expect(page.locator("gb-ways").get_by_role("status")).to_have_text(
        "Way 1 is taken; what was here is kept in its place."
    )
    assert (names(page), focused(page)) == (["Way 2"], "Take this way: Way 2")
    page.keyboard.press("Space")
    address_is(page, grown)
    expect(page.get_by_role("button", name="Take this way: Way 1")).to_be_focused()

    page.keyboard.press("Shift+Tab")
    page.keyboard.press("Shift+Tab")
    assert focused(page) == "Name of Way 1"
    page.keyboard.press("Control+a")
    page.keyboard.type("With the")
    page.locator("gb-ways").evaluate(
        "(ways) => (ways.requestUpdate(), ways.updateComplete)"
    )  # an answer comes meanwhile
    page.keyboard.type(" ride")
    page.keyboard.press("Enter")
    expect(page.get_by_role("button", name="Take this way: With the ride")).to_be_visible()
    assert focused(page) == "Name of With the ride"

    tab_to(page, "Delete: With the ride")
    page.keyboard.press("Enter")
    expect(page.locator("gb-ways li")).to_have_count(0)
    expect(page.locator("gb-ways").get_by_role("status")).to_be_focused()
    expect(page.locator("gb-ways").get_by_role("status")).to_have_text("With the ride is deleted. Undo brings it back.")


def test_undo_gives_back_every_document(open_page: OpenPage, link: str):
    page = open_page(link)
    documents = [saved(page)]
    fork(page)
    documents.append(saved(page))
    add(page)
    documents.append(saved(page))
    for button in ("Take this way: Way 1", "Delete: Way 2"):
        page.get_by_role("button", name=button).click()
        expect(page.get_by_role("button", name=button)).to_have_count(0)
        documents.append(saved(page))
    assert len(set(documents)) == 5
    assert [document.count("[[branch]]") for document in documents] == [0, 1, 1, 1, 0]
    assert documents[-1] == documents[0].rstrip("\n").replace("tempo = 92\n", "tempo = 92\nnext-key = 6\n") + "\n"
    for before in reversed(documents[:-1]):
        page.get_by_role("button", name="Undo").click()
        address_is(page, view_of(before))
        expect(page.locator("gb-ways li")).to_have_count(before.count("[[branch]]"))
        assert saved(page) == before
    for after in documents[1:]:
        page.get_by_role("button", name="Redo").click()
        address_is(page, view_of(after))
        expect(page.locator("gb-ways li")).to_have_count(after.count("[[branch]]"))
        assert saved(page) == after


def test_hearing_another_way_goes_on_at_the_loop_point_and_keeps_nothing(open_page: OpenPage, link: str):
    page = open_page(link)
    fork(page)
    add(page)
    grown = edited(SLACK_TIDE, *FORKED)
    address_is(page, grown)
    page.get_by_role("spinbutton", name="Tempo").fill("300")
    page.keyboard.press("Tab")
    page.get_by_role("button", name="Play", exact=True).click()
    expect(page.get_by_role("button", name="Stop")).to_be_visible(timeout=15_000)
    page.evaluate(
        """() => {
          window.states = [];
          const look = () => { states.push(document.querySelector("gb-transport").state); requestAnimationFrame(look); };
          look();
        }"""
    )
    for _ in range(2):
        page.get_by_role("button", name="Hear it: Way 1").click()
        expect(page.get_by_text("This is what you see and hear.")).to_be_visible()
        expect(page.locator("section.chosen")).to_have_attribute("data-stage", "4")
        expect(page.locator('section[data-stage="4"] text.count.now')).to_have_count(1, timeout=15_000)
        address_is(page, grown)
        page.get_by_role("button", name="Hear the one before: Way 1").click()
        expect(page.locator("section.chosen")).to_have_attribute("data-stage", "3")
        expect(page.get_by_role("button", name="Hear it: Way 1")).to_be_focused()
    assert set(page.evaluate("states")) == {"playing"}
    address_is(page, grown)
    page.get_by_role("button", name="Hear it: Way 1").click()
    page.get_by_role("button", name="Take this way: Way 1").click()
    address_is(page, edited(SLACK_TIDE, *FORKED, EXCHANGED))
    assert set(page.evaluate("states")) == {"playing"}
    assert names(page) == ["Way 2"]


def test_hearing_a_way_plays_it_where_nothing_plays(open_page: OpenPage, link: str):
    page = open_page(link)
    fork(page)
    page.get_by_role("button", name="Hear it: Way 1").click()
    expect(page.get_by_role("button", name="Stop")).to_be_visible(timeout=15_000)
    expect(page.locator('section[data-stage="4"] text.count.now')).to_have_count(1, timeout=15_000)


def test_the_button_stays_under_the_finger_while_ways_are_compared(open_page: OpenPage, link: str):
    page = open_page(link)
    fork(page)
    button = page.locator("gb-ways li button").first
    button.scroll_into_view_if_needed()
    before = button.bounding_box()
    for name in ("Hear the one before", "Hear it"):
        button.click()
        expect(button).to_have_text(name)
        expect(page.locator("gb-stages section")).to_have_count(5 if name != "Hear it" else 3)
        page.evaluate("() => new Promise((done) => setTimeout(done, 100))")
        after = button.bounding_box()
        assert before and after and abs(after["y"] - before["y"]) < 2


def test_a_word_that_is_tried_is_kept_before_another_way_is_heard(open_page: OpenPage, link: str):
    page = open_page(link)
    fork(page)
    page.locator('gb-sentence button[data-setting="dynamic"]').click()
    page.locator("gb-word select").select_option("soft")
    expect(page.get_by_role("button", name="Take back")).to_be_visible()
    page.get_by_role("button", name="Hear it: Way 1").click()
    expect(page.locator("section.chosen")).to_have_attribute("data-stage", "4")
    page.get_by_role("button", name="Hear the one before: Way 1").click()
    expect(page.locator("gb-stages section")).to_have_count(3)
    kept = edited(SLACK_TIDE, FORKED[0], {"ask": "word", "key": 2, "setting": "dynamic", "value": "soft"})
    address_is(page, kept)


def test_what_is_done_to_a_way_while_one_is_heard_is_done_to_that_way(open_page: OpenPage, link: str):
    page = open_page(link)
    fork(page)
    add(page)
    page.get_by_role("button", name="Hear it: Way 1").click()
    expect(page.get_by_text("This is what you see and hear.")).to_be_visible()
    page.get_by_role("textbox", name="Name of Way 1").fill("First idea")
    page.keyboard.press("Enter")
    expect(page.get_by_role("button", name="Hear it: First idea")).to_be_visible()
    address_is(page, edited(SLACK_TIDE, *FORKED))
    page.get_by_role("button", name="Hear it: First idea").click()
    expect(page.get_by_text("This is what you see and hear.")).to_be_visible()
    page.get_by_role("button", name="Delete: First idea").click()
    expect(page.locator("gb-ways li")).to_have_count(0)
    address_is(page, edited(SLACK_TIDE, *FORKED))


def test_a_reload_keeps_the_ways_and_another_tab_opens_the_link_alone(open_page: OpenPage, link: str):
    page = open_page(link)
    fork(page)
    add(page)
    page.get_by_role("textbox", name="Name of Way 1").fill("First idea")
    page.keyboard.press("Enter")
    expect(page.get_by_role("button", name="Hear it: First idea")).to_be_visible()
    address_is(page, edited(SLACK_TIDE, *FORKED))
    before = saved(page)
    page.reload()
    expect(page.get_by_role("textbox", name="Name of First idea")).to_have_value("First idea", timeout=READY)
    assert saved(page) == before
    page.get_by_role("button", name="Take this way: First idea").click()
    expect(page.locator("gb-stages section")).to_have_count(5)
    other = another_tab(page)
    other.goto(page.url)
    expect(other.locator("gb-stages section")).to_have_count(5, timeout=READY)
    expect(other.locator("gb-ways li")).to_have_count(0)


def test_a_deleted_way_does_not_come_back_with_a_reload(open_page: OpenPage, link: str):
    page = open_page(link)
    fork(page)
    page.get_by_role("button", name="Delete: Way 1").click()
    expect(page.locator("gb-ways li")).to_have_count(0)
    page.reload()
    expect(page.locator("gb-stages section")).to_have_count(3, timeout=READY)
    expect(page.locator("gb-ways li")).to_have_count(0)


def test_what_was_kept_and_does_not_read_is_no_hindrance(open_page: OpenPage, link: str):
    script = f'sessionStorage.setItem("groundbeat.ways", JSON.stringify([["{link[1:]}", "groundbeat = 99"]]));'
    page = open_page(link, script=script)
    expect(page.locator("gb-stages section")).to_have_count(5)
    expect(page.get_by_text("this file is of version 99")).to_have_count(0)


BLOCKED = """
Object.defineProperty(window, 'sessionStorage', { get() { throw new DOMException('no', 'SecurityError'); } });
"""


def test_where_the_browser_keeps_nothing_the_page_says_so_and_asks_before_it_goes(open_page: OpenPage, link: str):
    page = open_page(link, script=BLOCKED)
    fork(page)
    expect(page.get_by_text("This browser keeps nothing for this page. Save the groove file")).to_be_visible()
    asked: list[str] = []
    page.on("dialog", lambda dialog: (asked.append(dialog.type), dialog.accept()))
    page.reload()
    assert asked == ["beforeunload"]
    expect(page.locator("gb-stages section")).to_have_count(3, timeout=READY)
    page.reload()
    assert asked == ["beforeunload"]  # nothing to lose


def test_share_saves_every_way_and_says_what_the_link_leaves_out(open_page: OpenPage, link: str):
    page = open_page(link)
    fork(page)
    page.get_by_role("button", name="Share").click()
    expect(
        page.get_by_text("The link holds the way that you see. One other way stays in the groove file only.")
    ).to_be_visible()
    with page.expect_download() as file:
        page.get_by_role("link", name="Save the groove file").click()
    text = Path(file.value.path()).read_text()
    assert text == edited(SLACK_TIDE, FORKED[0])["document"]
    assert text.count("[[branch]]\n") == 1
    address = page.get_by_role("textbox", name="Link").input_value()
    assert view_of("#" + address.partition("#")[2])["ways"] == []


def test_at_the_last_stage_there_is_nothing_to_keep(open_page: OpenPage, link: str):
    page = open_page(link)
    expect(page.get_by_role("button", name="Try another way from here")).to_have_count(0)
    choose(page, 0)
    expect(page.get_by_role("button", name="Try another way from here")).to_be_visible()


SMALL = """() => [...document.querySelectorAll("gb-ways, gb-fork")].flatMap((one) =>
  [...one.renderRoot.querySelectorAll("button, input")].filter((control) => {
    const box = control.getBoundingClientRect();
    return box.height < 43.5 || box.width < 43.5;
  }).map((control) => control.outerHTML))"""


@pytest.mark.parametrize(("width", "scheme"), [(360, "light"), (768, "light"), (1440, "dark")])
def test_axe_finds_nothing_and_fingers_find_everything(open_page: OpenPage, link: str, width: int, scheme: str):
    page = open_page(link, width=width, color_scheme=scheme)
    choose(page, 2)
    assert violations(page) == []
    assert page.evaluate(SMALL) == []
    fork(page)
    add(page)
    fork(page, 1)
    for state in ("kept", "heard"):
        if state == "heard":
            page.get_by_role("button", name="Hear it: Way 1").click()
            expect(page.get_by_text("This is what you see and hear.")).to_be_visible()
        assert (state, violations(page)) == (state, [])
        assert (state, page.evaluate(SMALL)) == (state, [])
        assert (state, page.evaluate("document.documentElement.scrollWidth <= innerWidth")) == (state, True)
