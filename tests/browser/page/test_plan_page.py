"""A practice plan on the page: what the engine says, heard step by step as it is to be practised, and on paper."""

from __future__ import annotations

import json
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect
from pypdf import PdfReader

from groundbeat.bridge.door import answer
from tests.browser.words.conftest import SLACK_TIDE, choose, focused, tab_to

from .conftest import READY, OpenPage, in_both_schemes, view_of

POSTS = """
const post = MessagePort.prototype.postMessage;
window.posts = [];
MessagePort.prototype.postMessage = function (message, ...rest) {
  if (message?.kind) window.posts.push(message);
  return post.call(this, message, ...rest);
};
"""
"""Keeps a list of all that the audio thread is told, in `posts`."""
PLAYED = """() => {
  const play = posts.findLast(({ kind }) => kind === "play" || kind === "programme");
  return play.programme.entries.map(({ line, passes }) => ({
    strokes: [...line.group].filter((group) => group > 1 && group < 6).length, ticks: line.loopTicks, passes, frames: line.loopWhole,
  }));
}"""
GAINS = "() => [...posts.findLast(({ kind }) => kind === 'gains').groups].slice(0, 6)"
RETIMED = "() => posts.findLast(({ kind }) => kind === 'retime').lines.map((line) => line.loopWhole)"
BAR = 40320
CARE = ("Protect your hearing", "Stop if it hurts", "clinician")


@pytest.fixture(scope="module")
def link() -> str:
    return "#" + view_of(SLACK_TIDE)["link"]


def told(stage: int = 2, **rest: Any) -> dict[str, Any]:
    """Ask the engine itself, outside the browser."""
    reply: dict[str, Any] = json.loads(
        answer(json.dumps({"ask": "plan", "document": view_of(SLACK_TIDE)["document"], "stage": stage, **rest}))
    )
    assert reply.get("answer") == "plan", reply
    return reply


def plan_of(page: Page, stage: int = 2) -> Locator:
    choose(page, stage)
    page.get_by_role("button", name="Practice plan").click()
    dialog = page.get_by_role("dialog", name="Practice plan")
    expect(dialog.locator(".step").first).to_be_visible(timeout=READY)  # an engine of its own fetches what plans first
    return dialog


def titles(dialog: Locator) -> list[str]:
    return dialog.locator(".step h3").all_inner_texts()


def hear(dialog: Locator, number: int) -> None:
    """Hear a step by its number from 0."""
    step = dialog.locator(".step").nth(number)
    step.get_by_role("button", name="Hear it").click()
    expect(step.get_by_role("button", name="Stop")).to_be_focused(timeout=15_000)


def played(page: Page) -> list[dict[str, Any]]:
    """Tell what the audio thread was given last."""
    entries: list[dict[str, Any]] = page.evaluate(PLAYED)
    return entries


def test_it_says_what_the_engine_says_with_the_cautions_first(open_page: OpenPage, link: str):
    dialog = plan_of(open_page(link))
    plan = told()
    assert titles(dialog) == [step["title"] for step in plan["steps"]]
    for step, row in zip(plan["steps"], dialog.locator(".step").all(), strict=True):
        expect(row).to_contain_text(step["do"])
        expect(row).to_contain_text(step["listen"])
        expect(row).to_contain_text(", ".join(str(tempo) for tempo in step["tempos"]))
    care = dialog.get_by_role("complementary", name="Before you begin")
    assert care.get_by_role("listitem").all_inner_texts() == plan["cautions"]
    text = dialog.inner_text()
    assert text.index(plan["cautions"][0]) < text.index(plan["steps"][0]["do"])
    expect(dialog.get_by_text(f"About {plan['minutes']} minutes with the breaks.")).to_be_visible()


def test_a_step_sounds_with_its_own_strokes_and_counts_at_its_first_tempo(open_page: OpenPage, link: str):
    page = open_page(link, script=POSTS)
    dialog = plan_of(page)
    steps = told()["steps"]
    few = next(i for i, step in enumerate(steps) if step["ids"])
    part = next(i for i, step in enumerate(steps) if step["start"] is not None)
    turn = next(i for i, step in enumerate(steps) if step["against"] is not None)
    hear(dialog, few)
    (heard,) = played(page)
    assert (heard["strokes"], heard["ticks"]) == (len(steps[few]["ids"]), BAR)
    rate = heard["frames"] * steps[few]["tempos"][0] / (4 * 60)
    assert round(rate) in (44100, 48000), "four beats at the first tempo"
    hear(dialog, part)
    (heard,) = played(page)
    assert heard["ticks"] == steps[part]["end"] - steps[part]["start"]
    expect(dialog.locator(".now")).to_have_count(1)
    hear(dialog, turn)
    before, own = played(page)
    assert (before["passes"], own["passes"]) == (2, 2), "two bars of each"
    assert (before["strokes"], own["strokes"]) == (13, 18)
    assert page.evaluate(GAINS) == [0, 0, 1, 1, 1, 1], "as the stages are, nothing of the base beat beside them"
    page.keyboard.press("Escape")
    expect(page.get_by_role("button", name="Play", exact=True)).to_be_visible()
    expect(page.get_by_label("Tempo", exact=True).first).to_have_value("92")


def test_it_goes_on_faster_while_it_sounds(open_page: OpenPage, link: str):
    page = open_page(link, script=POSTS)
    dialog = plan_of(page)
    hear(dialog, 1)
    (heard,) = played(page)
    first, second = told()["steps"][1]["tempos"][:2]
    expect(dialog.get_by_role("button", name="Slower")).to_be_disabled()
    dialog.get_by_role("button", name="Faster").click()
    expect(dialog.locator(".at")).to_have_text(str(second))
    assert max(page.evaluate(RETIMED)) == pytest.approx(heard["frames"] * first / second, abs=1)
    dialog.get_by_role("button", name="Stop").click()
    expect(dialog.locator(".now")).to_have_count(0)


def test_the_last_clean_tempo_makes_another_plan_and_is_remembered(open_page: OpenPage, link: str):
    page = open_page(link, own_engine=True)
    dialog = plan_of(page)
    field = dialog.get_by_label("Last clean tempo")
    field.fill("80")
    field.press("Tab")
    plan = told(clean=80)
    expect(dialog.get_by_text(f"From {plan['start']} to {plan['goal']}.")).to_be_visible()
    assert plan["start"] == 80
    dialog.locator("select[name=stage]").select_option("1")
    expect(field).to_have_value("")
    page.reload()
    page.locator("gb-starting").wait_for(state="detached", timeout=30_000)
    dialog = plan_of(page)
    expect(dialog.get_by_label("Last clean tempo")).to_have_value("80")
    dialog.get_by_label("Last clean tempo").fill("900")
    dialog.get_by_label("Last clean tempo").press("Tab")
    expect(dialog.get_by_label("Last clean tempo")).to_have_value("300")
    expect(dialog.locator(".step").first).to_be_visible()


def test_all_stages_are_planned_in_one(open_page: OpenPage, link: str):
    dialog = plan_of(open_page(link))
    dialog.get_by_role("checkbox", name="with all stages before it").check()
    plan = told(every=True)
    expect(dialog.locator(".step")).to_have_count(len(plan["steps"]))
    assert titles(dialog) == [step["title"] for step in plan["steps"]]
    dialog.locator("select[name=stage]").select_option("0")
    expect(dialog.get_by_role("checkbox", name="with all stages before it")).to_have_count(0)
    expect(dialog.locator(".step")).to_have_count(len(told(0)["steps"]))


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_printer_gets_the_plan_alone_with_the_cautions(open_page: OpenPage, link: str, paper: str, tmp_path):
    page = open_page(link, color_scheme="dark")
    plan_of(page)
    page.locator("gb-plan gb-strip").wait_for(state="attached")
    file = tmp_path / "plan.pdf"
    page.pdf(path=file, format=paper)
    pages = [" ".join(one.extract_text().replace("ﬁ", "fi").split()) for one in PdfReader(file).pages]
    assert len(pages) == 2
    for words in ("Slack Tide: stage 2", *CARE):
        assert words in pages[0]
    for step in told()["steps"]:
        assert step["title"] in " ".join(pages)
    for word in ("Close", "Hear it", "Help", "Undo", "Last clean tempo"):
        assert word not in " ".join(pages)
    page.emulate_media(media="print", color_scheme="dark")
    look = page.locator("gb-plan .printed").evaluate(
        "(one) => [getComputedStyle(one).color, getComputedStyle(one).backgroundColor, one.querySelector('gb-strip')"
        ".renderRoot.querySelectorAll('.stroke').length, one.scrollWidth - one.clientWidth]"
    )
    assert look == ["rgb(17, 17, 17)", "rgb(255, 255, 255)", 18, 0]
    steps = page.locator("gb-plan .printed .step")
    assert set(steps.evaluate_all("(all) => all.map((one) => getComputedStyle(one).breakInside)")) == {"avoid"}
    assert steps.locator("i").count() == sum(step["passes"] * len(step["tempos"]) for step in told()["steps"])


def test_it_goes_by_keyboard_alone_and_back_to_where_it_began(open_page: OpenPage, link: str):
    page = open_page(link)
    tab_to(page, "Practice plan")
    page.keyboard.press("Enter")
    dialog = page.get_by_role("dialog", name="Practice plan")
    expect(dialog.locator(".step").first).to_be_visible()
    tab_to(page, "Hear it at")
    page.keyboard.press("Enter")
    expect(dialog.get_by_role("button", name="Stop")).to_be_focused(timeout=15_000)
    page.keyboard.press("Escape")
    expect(page.get_by_role("dialog")).to_have_count(0)
    assert focused(page) == "Practice plan"
    expect(page.get_by_role("button", name="Play", exact=True)).to_be_visible()


@pytest.mark.parametrize("width", [360, 1440])
def test_nobody_is_kept_out(open_page: OpenPage, link: str, width: int):
    page = open_page(link, width=width)
    dialog = plan_of(page)
    hear(dialog, 1)
    assert in_both_schemes(page) == []
    assert dialog.evaluate("(one) => one.scrollWidth <= one.clientWidth")
    assert small(dialog) == []


def small(place: Locator) -> list[str]:
    """Name what a finger can hardly hit."""
    found: list[str] = place.evaluate(
        """(place) => [...place.querySelectorAll("button, input, select")].filter((one) => {
          const box = (one.closest("label.tick") ?? one).getBoundingClientRect();
          return box.width && (box.height < 43.5 || box.width < 43.5);
        }).map((one) => one.outerHTML.slice(0, 90))"""
    )
    return found
