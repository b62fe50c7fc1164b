"""Who knows what a beat is for gets ideas with their reasons; what a stage offers is taken up with a click."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from groundbeat.variation.purposes import PURPOSES

from .conftest import SLACK_TIDE, OpenPage, address_is, choose, edited, sentence, tab_to, view_of

DOTTED = SLACK_TIDE.replace("sixteenth sixteenth eighth", "dotted eighth")


def ideas(page: Page, purpose: str) -> list[str]:
    return page.get_by_role("list", name=f"Ideas: {purpose}").get_by_role("button").all_inner_texts()


def test_every_purpose_has_ideas_with_their_reasons(open_page: OpenPage, link: str):
    page = open_page(link)
    for purpose in PURPOSES:
        page.get_by_role("button", name=purpose, exact=True).click()
        expect(page.get_by_role("list", name=f"Ideas: {purpose}")).to_be_visible()
        found = ideas(page, purpose)
        assert 1 <= len(found) <= 4
        reasons = {idea.reason for idea in PURPOSES[purpose]}
        assert all(any(text.endswith(reason) for reason in reasons) for text in found)
    page.get_by_role("button", name=purpose, exact=True).click()
    expect(page.get_by_role("list", name=f"Ideas: {purpose}")).to_have_count(0)


def test_an_idea_is_taken_by_the_keyboard_tried_first_and_then_kept(open_page: OpenPage, link: str):
    page = open_page(link)
    choose(page, 0)
    tab_to(page, "busier")
    page.keyboard.press("Enter")
    expect(page.get_by_role("list", name="Ideas: busier")).to_be_visible()
    tab_to(page, "Let the riding hand repeat a sixteenth.")
    page.keyboard.press("Enter")
    expect(page.locator("gb-stages section")).to_have_count(6)
    assert sentence(page) == "Let the riding hand repeat a sixteenth."
    tab_to(page, "Keep")
    page.keyboard.press("Enter")
    number = [idea.settings.get("cell") for idea in PURPOSES["busier"]].index("sixteenth")
    begun = {"ask": "begin", "purpose": "busier", "number": number, "after": 0}
    address_is(page, edited(SLACK_TIDE, begun))
    page.get_by_role("button", name="Undo").click()
    address_is(page, view_of(SLACK_TIDE))


def test_ideas_are_about_the_stage_that_is_chosen(open_page: OpenPage, link: str):
    page = open_page(link)
    choose(page, 0)
    page.get_by_role("button", name="for small hands").click()
    expect(page.get_by_role("list", name="Ideas: for small hands")).to_be_visible()
    assert not any("ghost" in text for text in ideas(page, "for small hands"))
    choose(page, 4)
    expect(page.get_by_role("list", name="Ideas: for small hands")).to_contain_text("the ghosts of the snare")


def test_what_a_stage_offers_is_taken_up(open_page: OpenPage):
    page = open_page("#" + view_of(DOTTED)["link"])
    choose(page, 3)
    offer = page.get_by_role("button", name="Lengthen the beat to 3 bars: it comes out even")
    expect(page.get_by_text("cut at the loop; comes round after 3 bars")).to_be_visible()
    offer.click()
    expect(page.locator("gb-stages section")).to_have_count(6)
    expect(page.get_by_text("cut at the loop")).to_have_count(0)
    after = edited(DOTTED, {"ask": "accept", "key": 3, "number": 0})
    assert [stage["kind"] for stage in after["stages"]][2:5] == ["embellish", "length", "ostinato"]
    address_is(page, after)
