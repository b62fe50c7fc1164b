"""Some of the counts in a loop, the tempo by tapping, and how loud: what the page does with them."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from .conftest import OpenPage, view_of

SIXTEENTH = 2520
SEEN = """async () => {
  const seen = new Set();
  for (let frame = 0; frame < 150; frame += 1) {
    await new Promise(requestAnimationFrame);
    for (const lines of document.querySelector("gb-stages").renderRoot.querySelectorAll("gb-lines"))
      for (const one of lines.renderRoot.querySelectorAll("text.count.now")) seen.add(one.dataset.at);
  }
  return [...seen];
}"""
"""The places of the counts that are lit in 150 frames, which are several rounds at 300 bpm."""
LIT = """(at) => [...document.querySelector("gb-stages").renderRoot.querySelectorAll("gb-lines")].some((lines) =>
  lines.renderRoot.querySelector(`text.count.now[data-at="${at}"]`))"""


def start(page: Page) -> None:
    page.get_by_role("button", name="Play", exact=True).click()
    expect(page.get_by_role("button", name="Stop")).to_be_visible(timeout=15_000)


def test_only_the_chosen_counts_go_round(open_page: OpenPage, link: str):
    page = open_page(link)
    page.get_by_role("spinbutton", name="Tempo").fill("300")
    page.keyboard.press("Tab")
    page.get_by_role("combobox", name="loop from").select_option(label="2")
    page.get_by_role("combobox", name="loop to").select_option(label="& of 3")
    expect(page.get_by_role("button", name="The whole beat", exact=True)).to_be_visible()
    start(page)
    seen = {int(at) for at in page.evaluate(SEEN)}
    assert seen <= {SIXTEENTH * column for column in range(4, 11)}
    assert len(seen) >= 4
    page.get_by_role("button", name="The whole beat", exact=True).click()
    # The one lasts a twentieth of a second: looked for at every frame, not now and then.
    page.wait_for_function(LIT, arg=0, timeout=15_000)
    assert page.url.endswith(link)


def test_a_loop_never_ends_before_it_begins(open_page: OpenPage, link: str):
    page = open_page(link)
    first, last = page.get_by_role("combobox", name="loop from"), page.get_by_role("combobox", name="loop to")
    last.select_option(label="2")
    first.select_option(label="4")
    expect(last.locator("option:checked")).to_have_text("a of 4")
    last.select_option(label="3")
    expect(first.locator("option:checked")).to_have_text("3")
    assert page.get_by_role("combobox", name="loop from").locator("option").count() == len(view_of(link)["grid"])


def test_the_tempo_follows_taps(open_page: OpenPage, link: str):
    page = open_page(link)
    button = page.get_by_role("button", name="Tap the tempo")
    for _ in range(4):
        button.click()
        page.wait_for_function("(then) => performance.now() > then + 400", arg=page.evaluate("performance.now()"))
    tempo = int(page.get_by_role("spinbutton", name="Tempo").input_value())
    assert tempo != 92 and 60 < tempo <= 150
    assert page.url.endswith(link)


def test_loudness_is_modest_at_first_and_told(open_page: OpenPage, link: str):
    page = open_page(link)
    slider = page.get_by_role("slider", name="how loud")
    expect(slider).to_have_value("60")
    slider.fill("25")
    expect(slider).to_have_attribute("aria-valuetext", "25 of 100")
