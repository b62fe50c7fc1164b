"""Everyone gets the page: keyboard, screen reader, small screens, large text, both colour schemes."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import expect

from .conftest import OpenPage, chosen, in_both_schemes, view_of, violations

SLACK_TIDE = (Path(__file__).parents[3] / "examples" / "slack-tide.toml").read_text()
LONG = f"""groundbeat = 1
title = "The long evening walk along the salt marsh with every lantern lit, out to the hut and home again"
meter = "4/4"
columns = "sixteenths"
tempo = 137
[base]
hi-hat = "{"x-xxx-x-x-x-x-xX" * 16}"
snare = "{"----O--g-g--O--g" * 16}"
kick = "{"o--o--o---oo----" * 16}"
"""
VARIATION = '[[variation]]\nkind = "displace"\nsurface = "snare"\nat = "a"\nby = "1/16 later"\n'


@pytest.fixture(scope="module")
def link() -> str:
    return "#" + view_of(SLACK_TIDE)["link"]


@pytest.mark.parametrize("width", [360, 1440])
def test_axe_finds_nothing(open_page: OpenPage, link: str, width: int):
    page = open_page(link, width=width)
    for stage in (0, 2, 4):
        page.locator(f'section[data-stage="{stage}"] h2 button').click()
        assert in_both_schemes(page) == []
    page.get_by_role("switch", name="stage 1").uncheck()
    expect(page.locator("gb-stages section.off")).to_have_count(1)
    page.evaluate("location.hash = '1abc'")
    expect(page.locator('gb-notice [role="alert"] p')).to_be_visible()
    assert in_both_schemes(page) == []
    page.get_by_role("button", name="Open a beat").click()
    assert in_both_schemes(page) == []


def test_axe_finds_nothing_in_an_empty_page(open_page: OpenPage):
    assert violations(open_page("#1abc")) == []


@pytest.mark.parametrize("width", [360, 768, 1440])
@pytest.mark.parametrize("stages", [4, 12])
def test_nothing_runs_over_the_side_of_the_page(open_page: OpenPage, link: str, width: int, stages: int):
    page = open_page(link if stages == 4 else "#" + view_of(LONG + VARIATION * 12)["link"], width=width)
    for stage in (stages, 0):
        page.locator(f'section[data-stage="{stage}"] h2 button').click()
        assert page.evaluate("document.documentElement.scrollWidth") <= width
    outside = page.evaluate(
        """(width) => [...document.querySelectorAll("body *")].filter((one) => {
          const box = one.getBoundingClientRect();
          return box.width && (box.left < -1 || box.right > width + 1);
        }).map((one) => one.outerHTML.slice(0, 80))""",
        width,
    )
    assert outside == []


def test_large_text_still_fits_a_phone(open_page: OpenPage, link: str):
    page = open_page(
        link,
        width=360,
        script="document.addEventListener('DOMContentLoaded', () => {"
        "document.documentElement.style.fontSize = '200%'; });",
    )
    assert page.evaluate("document.documentElement.scrollWidth") <= 360


def test_the_keyboard_alone_reaches_and_does_everything(open_page: OpenPage, link: str):
    page = open_page(link)
    wanted = {"Open a beat", "Tempo", "From the base beat to this stage", "only what was added", "click", "stage 1"}
    reached: list[str] = []
    for _ in range(60):
        page.keyboard.press("Tab")
        if reached and page.evaluate("document.activeElement === document.body"):
            break  # once round
        name, ring = page.evaluate(
            """() => {
              let one = document.activeElement;
              while (one.shadowRoot?.activeElement) one = one.shadowRoot.activeElement;
              const name = one.ariaLabel || one.labels?.[0]?.textContent || one.textContent;
              return [name.trim(), getComputedStyle(one).outlineStyle];
            }"""
        )
        assert name == "" or ring == "solid", f"{name} shows no focus"
        reached.append(name)
    assert {name for name in wanted if not any(name in one for one in reached)} == set()
    page.get_by_role("button", name="Open a beat").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("dialog", name="Open a beat")).to_be_visible()
    page.keyboard.press("Escape")
    expect(page.get_by_role("dialog")).to_have_count(0)


def test_arrow_keys_go_from_stage_to_stage_and_space_plays_there(open_page: OpenPage, link: str):
    page = open_page(link)
    page.locator('section[data-stage="4"] h2 button').focus()
    for key, stage in (("ArrowUp", "3"), ("ArrowUp", "2"), ("ArrowDown", "3"), ("PageUp", "2"), ("PageDown", "3")):
        page.keyboard.press(key)
        expect(page.locator("section.chosen")).to_have_attribute("data-stage", stage)
    assert page.evaluate("document.activeElement.localName") == "gb-stages"
    page.keyboard.press(" ")
    expect(page.get_by_role("button", name="Stop")).to_be_visible(timeout=15_000)
    page.keyboard.press(" ")
    page.keyboard.press("Tab")
    page.keyboard.press(" ")
    expect(page.locator('section[data-stage="3"].off')).to_have_count(1)
    assert chosen(page) == "3"


def test_the_strokes_of_the_chosen_stage_are_read_in_a_grid_of_places(open_page: OpenPage, link: str):
    page = open_page(link)
    page.locator('section[data-stage="2"] h2 button').click()
    grid = page.get_by_role("grid", name="Strokes of Embellish")
    assert grid.get_by_role("row").evaluate_all("(all) => all.map((one) => one.ariaLabel)") == [
        "hi-hat",
        "snare",
        "kick",
    ]
    places = grid.get_by_role("gridcell").evaluate_all("(all) => all.map((one) => one.ariaLabel)")
    assert len(places) == 48
    labels = {stroke["label"] for stroke in view_of(SLACK_TIDE)["stages"][2]["strokes"]}
    assert {name for name in places if not name.endswith(", empty")} == labels
    assert any("ghost" in label for label in labels)
    assert page.get_by_role("heading", level=2).count() >= 5
    assert page.get_by_role("heading", level=1).count() == 1


@pytest.mark.parametrize("width", [360, 1280])
def test_what_a_finger_needs_is_44_pixels(open_page: OpenPage, link: str, width: int):
    page = open_page(link, width=width)
    small = page.evaluate(
        """() => {
          const found = [];
          const walk = (root) => {
            for (const one of root.querySelectorAll("*")) {
              if (one.shadowRoot) walk(one.shadowRoot);
              if (!one.matches("button, input")) continue;
              const box = (one.closest("label.tick") ?? one).getBoundingClientRect();
              if (!box.width || (box.height > 43.5 && box.width > 43.5)) continue;
              found.push(`${one.outerHTML.slice(0, 80)} ${box.width}x${box.height}`);
            }
          };
          walk(document);
          return found;
        }"""
    )
    assert small == []


def test_forced_colours_keep_strokes_and_the_chosen_stage_visible(open_page: OpenPage, link: str):
    page = open_page(link, forced_colors="active")
    assert page.locator("section.chosen").evaluate("(one) => getComputedStyle(one).outlineStyle") == "solid"
    fill = page.locator("g.stroke path").first.evaluate("(one) => getComputedStyle(one).fill")
    ground = page.evaluate("getComputedStyle(document.body).backgroundColor")
    assert fill != ground
