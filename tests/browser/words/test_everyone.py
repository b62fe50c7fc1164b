"""Words, share and help are for everyone: axe, small screens, fingers, forced colours."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import violations

from .conftest import OpenPage, choose


def bring(page: Page, state: str) -> None:
    """Bring the page into a state, with the mouse."""
    choose(page, {"group": 4, "base": 0}.get(state, 2))
    if state == "group":
        page.locator('gb-sentence button[data-setting="then"]').click()
    elif state in ("one", "tried"):
        page.locator('gb-sentence button[data-setting="at"]').click()
    elif state == "many":
        page.get_by_role("checkbox", name="Staff", exact=True).check()  # in the states after this one too
        expect(page.locator("gb-staff svg")).to_be_visible()
        page.locator('gb-sentence button[data-setting="clear-of"]').click()
    if state in ("group", "one", "many", "tried"):
        expect(page.locator("gb-word")).to_be_visible()
    if state == "tried":
        page.locator("gb-word select").select_option("&")
        expect(page.get_by_role("button", name="Take back")).to_be_visible()
    elif state == "share":
        page.get_by_role("button", name="Share").click()
        expect(page.get_by_role("img", name="QR code")).to_be_visible(timeout=20_000)
    elif state == "help":
        page.get_by_role("button", name="Help").click()


SMALL = """() => {
  const found = [];
  const walk = (root) => {
    for (const one of root.querySelectorAll("*")) {
      if (one.shadowRoot) walk(one.shadowRoot);
      if (!one.matches("button, input, select, textarea, a[href], summary")) continue;
      const box = (one.closest("label.tick") ?? one).getBoundingClientRect();
      if (!box.width || (box.height > 43.5 && box.width > 43.5)) continue;
      found.push(`${one.outerHTML.slice(0, 80)} ${box.width}x${box.height}`);
    }
  };
  for (const name of ["gb-sentence", "gb-next", "gb-share", "gb-help", "gb-listening", "gb-hint", "gb-staff"])
    { const one = document.querySelector(name); if (one) walk(one.renderRoot); }
  return found;
}"""
"""Finds what is too small for a finger."""


@pytest.mark.parametrize(("width", "scheme"), [(360, "light"), (768, "light"), (1440, "dark")])
def test_in_every_state_axe_finds_nothing_and_fingers_find_everything(
    open_page: OpenPage, link: str, width: int, scheme: str
):
    page = open_page(link, width=width, color_scheme=scheme)
    for state in ("base", "one", "many", "group", "tried", "share", "help"):
        bring(page, state)
        assert (state, violations(page)) == (state, [])
        assert (state, page.evaluate("document.documentElement.scrollWidth <= innerWidth")) == (state, True)
        assert (state, page.evaluate(SMALL)) == (state, [])
        page.keyboard.press("Escape")
        expect(page.locator("gb-word")).to_have_count(0)
        expect(page.get_by_role("dialog")).to_have_count(0)


def test_in_forced_colours_what_is_tried_and_picked_can_be_told(open_page: OpenPage, link: str):
    page = open_page(link, forced_colors="active")
    bring(page, "tried")
    word = page.locator('gb-sentence button[aria-expanded="true"]')
    assert word.evaluate("(one) => getComputedStyle(one).textDecorationLine") == "underline"
    picked = page.locator("gb-word option:checked").evaluate("(one) => getComputedStyle(one).backgroundColor")
    other = page.locator("gb-word option:not(:checked)").first.evaluate(
        "(one) => getComputedStyle(one).backgroundColor"
    )
    assert picked != other
