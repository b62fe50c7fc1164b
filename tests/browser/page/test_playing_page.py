"""What is known of playing the chosen stage: limbs under its pillars, spots, tempo, demand and the way home.

What the page must show is asked of the engine itself, outside the browser.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

from groundbeat.bridge.door import answer
from tests.browser.edit.hand import place, settled, tap
from tests.browser.words.conftest import choose, tab_to

from .conftest import OpenPage, view_of, violations

SLACK_TIDE = (Path(__file__).parents[3] / "examples" / "slack-tide.toml").read_text()
CROWDED = """groundbeat = 1
title = "Crowded"
tempo = 150
[base]
hi-hat = "xxxxxxxxxxxxxxxx"
snare  = "--g-O-gg-g--O-gg"
floor-tom = "----o-------o---"
kick   = "oo----oooo----oo"
"""
PLAIN = """groundbeat = 1
title = "Plain"
[base]
hi-hat = "x-x-x-x-x-x-x-x-"
snare  = "----o-------o---"
kick   = "o-------o-------"
"""


@pytest.fixture(scope="module")
def link() -> str:
    return "#" + view_of(SLACK_TIDE)["link"]


def asked(question: dict[str, Any]) -> dict[str, Any]:
    reply: dict[str, Any] = json.loads(answer(json.dumps(question)))
    assert "refused" not in reply, reply
    return reply


def playing(text: str, stage: int, tempo: float = 0, player: str = "") -> dict[str, Any]:
    """Ask the engine itself."""
    document = view_of(text)["document"]
    return asked({"ask": "playing", "document": document, "stage": stage, "tempo": tempo, "player": player})


def edited(text: str, **change: Any) -> str:
    """The document after a change, by the engine itself."""
    document: str = asked({**change, "document": view_of(text)["document"]})["document"]
    return document


def letters(page: Page) -> dict[str, str]:
    """The letters under the chosen stage, by stroke."""
    page.locator("section.chosen gb-limbs g.limb").first.wait_for()
    found: list[list[str]] = page.locator("section.chosen gb-limbs g.limb").evaluate_all(
        "(all) => all.map((one) => [one.dataset.id, one.querySelector('.letter').textContent])"
    )
    return dict(found)


def letter(page: Page, stroke: str) -> Locator:
    return page.locator(f'section.chosen gb-limbs g.limb[data-id="{stroke}"]')


def before(page: Page) -> Locator:
    return page.get_by_role("region", name="Before you play it")


def spot(page: Page, number: int = 0) -> Locator:
    return before(page).locator("li.spot > button").nth(number)


def drawn(reply: dict[str, Any]) -> dict[str, str]:
    """The letters that a reply asks for, where no line is played by both feet."""
    return {one["id"]: "F" if one["limb"].endswith("foot") else one["letter"] for one in reply["limbs"]}


@pytest.mark.parametrize("stage", [0, 2, 4])
def test_every_stroke_of_the_chosen_stage_has_the_letter_of_its_limb(open_page: OpenPage, link: str, stage: int):
    page = open_page(link)
    choose(page, stage)
    assert letters(page) == drawn(playing(SLACK_TIDE, stage))


def test_a_left_handed_player_sees_the_other_letters(open_page: OpenPage, link: str):
    page = open_page(link, script="localStorage.setItem('groundbeat.player', 'left-handed');")
    choose(page, 2)
    wanted = drawn(playing(SLACK_TIDE, 2, player="left-handed"))
    assert letters(page) == wanted
    assert wanted != drawn(playing(SLACK_TIDE, 2))


def test_a_click_on_a_letter_pins_the_other_hand_then_this_one_then_none(open_page: OpenPage):
    page = open_page("#" + view_of(PLAIN)["link"])
    stroke, surface = "0/snare@1/4", {"surface": "snare", "at": 10080}
    expect(letter(page, stroke).locator(".letter")).to_have_text("L")
    expect(letter(page, stroke)).not_to_have_class("limb pinned")
    for value in ("R", "L"):
        letter(page, stroke).locator(".hit").click()
        settled(page, edited(PLAIN, ask="shape", stage=0, quality="hand", value=value, **surface))
        expect(letter(page, stroke)).to_have_class("limb pinned")
        expect(letter(page, stroke).locator(".letter")).to_have_text(value)
        expect(letter(page, stroke).locator(".rule")).to_have_count(1)
    letter(page, stroke).locator(".hit").click()
    settled(page, PLAIN)
    expect(letter(page, stroke)).to_have_class("limb")
    page.get_by_role("button", name="Undo").click()
    expect(letter(page, stroke)).to_have_class("limb pinned")


def test_a_key_on_the_place_does_the_same_and_says_which_hand(open_page: OpenPage):
    page = open_page("#" + view_of(PLAIN)["link"])
    snare = place(page, "snare", 4)
    expect(snare).to_have_attribute("aria-description", "left hand")
    snare.focus()
    page.keyboard.press("5")
    settled(page, edited(PLAIN, ask="shape", stage=0, quality="hand", value="R", surface="snare", at=10080))
    expect(snare).to_have_attribute("aria-description", "pinned")
    expect(snare).to_have_attribute("aria-label", "snare, right hand, 2")
    expect(snare).to_be_focused()
    kick = place(page, "kick", 0)
    expect(kick).to_have_attribute("aria-description", "right foot")
    url = page.url
    kick.focus()
    page.keyboard.press("5")
    page.keyboard.press("ArrowRight")
    expect(place(page, "kick", 1)).to_be_focused()
    assert page.url == url
    expect(page.locator('gb-notice[data-topic="edit"] p')).to_have_count(0)


def test_a_foot_has_no_letter_to_click(open_page: OpenPage, link: str):
    page = open_page(link)
    letters(page)
    assert page.locator('section.chosen gb-limbs g.limb[data-limb$="foot"]').count() == 3
    assert page.locator('section.chosen gb-limbs g.limb[data-limb$="foot"] .hit').count() == 0


def test_stroke_types_are_shown_when_they_are_asked_for(open_page: OpenPage, link: str):
    page = open_page(link)
    choose(page, 2)
    types = page.locator("section.chosen gb-limbs .type")
    letters(page)
    assert types.count() == 0
    page.get_by_role("checkbox", name="Stroke types").check()
    wanted = [one["type"] for one in playing(SLACK_TIDE, 2)["limbs"] if one["type"]]
    expect(types).to_have_count(len(wanted))
    assert sorted(types.all_text_contents()) == sorted(wanted)
    assert len(set(wanted)) > 2
    expect(before(page)).to_contain_text("starts high, ends low")
    page.get_by_role("checkbox", name="Stroke types").uncheck()
    expect(types).to_have_count(0)


def test_the_hard_place_is_marked_on_the_band_and_told_in_words(open_page: OpenPage, link: str):
    page = open_page(link)
    choose(page, 2)
    reply = playing(SLACK_TIDE, 2)
    assert reply["spots"], "the left hand from the a of 3"
    expect(before(page).locator("li.spot")).to_have_count(min(5, len(reply["spots"])))
    expect(spot(page)).to_contain_text(reply["spots"][0]["text"].rstrip("."))
    marks = page.locator('section.chosen gb-limbs g.spot[data-spot="0"] circle')
    at = {stroke["id"]: stroke["at"] for stroke in view_of(SLACK_TIDE)["stages"][2]["strokes"]}
    middles = marks.evaluate_all(
        "(all) => all.map((one) => one.getBoundingClientRect()).map(({ x, width }) => x + width / 2)"
    )
    strokes = [
        box["x"] + box["width"] / 2
        for column in sorted({at[one] // 2520 for one in reply["spots"][0]["ids"]})
        if (box := place(page, "snare", column).bounding_box())
    ]
    assert middles == pytest.approx(strokes, abs=1)
    expect(page.locator("section.chosen gb-limbs .looked")).to_have_count(0)
    spot(page).click()
    expect(page.locator("section.chosen gb-limbs .looked .round")).to_have_count(1)
    expect(spot(page)).to_have_attribute("aria-expanded", "true")


def test_leaving_out_the_least_is_one_variation_and_one_undo(open_page: OpenPage, link: str):
    page = open_page(link)
    choose(page, 2)
    first = playing(SLACK_TIDE, 2)["spots"][0]
    spot(page).click()
    url = page.url
    button = before(page).locator(".deeds").get_by_role("button", name="Leave out")
    expect(button).to_contain_text(first["leave_out_text"].rstrip("."))
    button.click()
    settled(page, edited(SLACK_TIDE, ask="leave_out", stage=2, ids="\n".join(first["leave_out"])))
    expect(page.locator("gb-stages section")).to_have_count(6)
    page.get_by_role("button", name="Undo").click()
    expect(page.locator("gb-stages section")).to_have_count(5)
    page.wait_for_url(lambda now: now == url)


def test_a_spot_can_be_heard_alone(open_page: OpenPage, link: str):
    page = open_page(link)
    choose(page, 2)
    spot(page).click()
    before(page).get_by_role("button", name="Hear it").click()
    expect(page.get_by_role("button", name="Stop")).to_be_visible(timeout=15_000)
    told = page.get_by_label("loop from").locator("option:checked")
    expect(told).to_have_text("3")
    page.get_by_role("button", name="The whole beat", exact=True).click()
    expect(told).to_have_text("1")
    page.get_by_role("button", name="Stop").click()


def test_beside_the_tempo_stands_how_fast_it_can_go_and_why(open_page: OpenPage, link: str):
    page = open_page(link, width=1440)
    choose(page, 2)
    reply = playing(SLACK_TIDE, 2)
    limits = page.locator("gb-transport gb-limits button.words")
    comfortable, fastest = reply["comfortable"]["bpm"], reply["fastest"]["bpm"]
    expect(limits).to_have_text(f"comfortable to {comfortable}, possible to {fastest}")
    tempo = page.get_by_role("spinbutton", name="Tempo")
    for bpm, words in (
        (comfortable + 1, f"comfortable only to {comfortable}"),
        (fastest + 1, f"too fast: possible only to {fastest}"),
    ):
        tempo.fill(str(bpm))
        tempo.press("Enter")
        expect(limits).to_contain_text(words)
    expect(before(page)).to_contain_text(f"Too fast at {fastest + 1}.")
    limits.click()
    why = page.get_by_role("dialog", name="How fast this stage can go")
    expect(why).to_contain_text(f"Comfortable to {comfortable}.")
    expect(why).to_contain_text(reply["fastest"]["because"][1:])
    assert violations(page) == []
    page.keyboard.press("Enter")  # Close has the keyboard
    expect(why).to_be_hidden()
    expect(limits).to_be_focused()


def test_what_nobody_can_play_is_said_first_and_more_spots_unfold(open_page: OpenPage):
    page = open_page("#" + view_of(CROWDED)["link"])
    reply = playing(CROWDED, 0)
    assert reply["verdict"]["kind"] == "impossible"
    expect(before(page).locator(".trouble")).to_have_text("Nobody can play this as it is.")
    expect(spot(page)).to_contain_text(reply["spots"][0]["text"][1:].rstrip("."))
    assert reply["spots"][0]["kind"] == "impossible"
    expect(before(page).locator("li.spot")).to_have_count(5)
    before(page).get_by_role("button", name=f"and {len(reply['spots']) - 5} more").click()
    expect(before(page).locator("li.spot")).to_have_count(len(reply["spots"]))
    before(page).get_by_role("button", name="Fewer").click()
    expect(before(page).locator("li.spot")).to_have_count(5)


def test_a_plain_beat_has_nothing_to_warn_about(open_page: OpenPage):
    page = open_page("#" + view_of(PLAIN)["link"])
    expect(before(page)).to_contain_text("Nothing to warn about at 90.")
    assert page.locator("gb-limbs g.spot").count() == 0


def test_what_a_stage_asks_is_told_part_by_part(open_page: OpenPage, link: str):
    page = open_page(link)
    choose(page, 2)
    parts = playing(SLACK_TIDE, 2)["demand"]
    before(page).get_by_role("button", name="What it asks of you").click()
    rows = before(page).locator("gb-demand li")
    expect(rows).to_have_count(len(parts))
    for row, part in zip(rows.all(), parts, strict=True):
        expect(row).to_contain_text(part["part"])
        expect(row).to_contain_text(part["text"])
        said = f"{part['value']} of 100" + ("" if part["before"] is None else f", in the stage before {part['before']}")
        expect(row.get_by_role("img")).to_have_attribute("aria-label", said)
    ends = [float(str(one.get_attribute("d")).split("H")[1]) for one in rows.locator(".value").all()]
    assert sorted(range(len(ends)), key=ends.__getitem__) == sorted(range(len(ends)), key=lambda i: parts[i]["value"])


def test_every_stage_says_how_far_from_home_it_is(open_page: OpenPage, link: str):
    page = open_page(link)
    letters(page)
    for home in playing(SLACK_TIDE, 2)["home"][1:]:
        figure = page.locator(f'section[data-stage="{home["stage"]}"] gb-head .home')
        strokes = sum(home[fate] for fate in ("kept", "moved", "altered", "covered", "gone"))
        expect(figure).to_contain_text(f"{home['kept']} of {strokes} at home")
        expect(figure).to_contain_text(f"{home['distance']} of 100 away")
    assert page.locator('section[data-stage="0"] gb-head .home').count() == 0


def test_the_first_beat_is_heard_inside_the_last(open_page: OpenPage, link: str):
    page = open_page(link)
    before(page).get_by_role("button", name="What is left of the base beat").click()
    expect(before(page)).to_contain_text("of the base beat sound where they stood")
    alone = before(page).get_by_role("checkbox", name="hear only the first beat in it")
    slider = page.get_by_role("slider", name="From the base beat to this stage")
    alone.check()
    expect(slider).to_have_value("0")
    slider.fill("50")
    expect(alone).not_to_be_checked()
    alone.check()
    alone.uncheck()
    expect(slider).to_have_value("100")


HEARS = """
const post = Worker.prototype.postMessage;
window.asked = [];
Worker.prototype.postMessage = function (message, ...rest) {
  if (message.text) window.asked.push([JSON.parse(message.text).ask, performance.now()]);
  return post.call(this, message, ...rest);
};
"""


def test_quick_edits_are_answered_before_anything_is_asked_about_playing(open_page: OpenPage, link: str):
    page = open_page(link, script=HEARS, own_engine=True)
    letters(page)
    choose(page, 0)
    letters(page)
    page.evaluate("asked.length = 0")
    for column in (1, 3, 5, 7):
        tap(page, "snare", column)
    expect(page.locator('section.chosen g.stroke[data-surface="snare"]')).to_have_count(6)
    expect(page.locator("section.chosen gb-limbs g.limb")).to_have_count(17, timeout=15_000)
    names = [name for name, _ in page.evaluate("asked")]
    assert names.count("playing") == 1
    assert "tap" not in names[names.index("playing") :]


@pytest.mark.parametrize(("width", "scheme"), [(360, "light"), (1440, "dark")])
def test_nobody_is_kept_out_of_it(open_page: OpenPage, width: int, scheme: str):
    page = open_page("#" + view_of(SLACK_TIDE)["link"], width=width, color_scheme=scheme)
    choose(page, 2)
    page.get_by_role("checkbox", name="Stroke types").check()
    spot(page).click()
    assert violations(page) == []
    for fold in ("What it asks of you", "What is left of the base beat"):
        before(page).get_by_role("button", name=fold).click()
        assert violations(page) == []
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    boxes: list[list[float]] = page.locator("section.chosen gb-limbs .letter").evaluate_all(
        "(all) => all.map((one) => one.getBoundingClientRect()).map(({ x, y, width, height }) => [x, y, width, height])"
    )
    for i, (x, y, wide, _) in enumerate(boxes):
        for x2, y2, _, _ in boxes[i + 1 :]:
            assert abs(y - y2) > 5 or abs(x - x2) >= wide - 0.5
    small = page.evaluate(
        """() => [...document.querySelectorAll("gb-before, gb-transport gb-limits")].flatMap((one) =>
          [...one.shadowRoot.querySelectorAll("button, label.tick")]).map((one) => one.getBoundingClientRect())
          .filter(({ width, height }) => width && (width < 43.5 || height < 43.5)).length"""
    )
    assert small == 0


def test_by_keyboard_a_spot_is_opened_and_left_out(open_page: OpenPage, link: str):
    page = open_page(link)
    choose(page, 2)
    expect(spot(page)).to_be_visible()
    tab_to(page, "three in a row")
    page.keyboard.press("Enter")
    tab_to(page, "Leave out")
    page.keyboard.press("Enter")
    expect(page.locator("gb-stages section")).to_have_count(6)
