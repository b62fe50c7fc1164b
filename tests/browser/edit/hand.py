"""A hand on the page: taps, carries and keys on the places of the chosen stage, and what is seen there.

Pointer, touch and keys only; the page's own state is never reached for. Places are given by line and column
(sixteenths, from 0).
"""

from __future__ import annotations

import json
from typing import Any

from playwright.sync_api import CDPSession, Locator, Page, expect

from groundbeat.bridge.door import answer

COLUMN = 2520
"""Ticks of a sixteenth."""

EMPTY = """groundbeat = 1
meter = "4/4"
columns = "sixteenths"
tempo = 92
[base]
hi-hat = "----------------"
snare  = "----------------"
kick   = "----------------"
"""

PICTURE = """() => {
  const root = document.querySelector("gb-stages").renderRoot;
  return JSON.stringify([...root.querySelectorAll("section")].map((section) => {
    const lines = section.querySelector("gb-lines").renderRoot;
    const strokes = [...lines.querySelectorAll("g.stroke")].map((one) =>
      [one.dataset.surface, Number(one.dataset.at), one.dataset.dynamic, one.querySelectorAll("path").length,
       [...one.querySelectorAll("path")].map((path) => path.getAttribute("class")).join(" ")].join("|"));
    return [section.getAttribute("aria-label"), section.classList.contains("off"), ...strokes.sort()];
  }));
}"""


def place(page: Page, surface: str, column: float) -> Locator:
    """The place of the chosen stage on a line at a column."""
    row = page.locator(f'section.chosen gb-places [role="row"][data-surface="{surface}"]')
    return row.locator(f'[role="gridcell"][data-at="{int(column * COLUMN)}"]')


def point(page: Page, surface: str, column: float) -> tuple[float, float]:
    """Where the place is in the window; scrolled into sight only where it is not."""
    cell = place(page, surface, column)
    cell.evaluate(
        """(one) => {
          const box = one.getBoundingClientRect();
          const seen = one.getRootNode().elementFromPoint(box.x + box.width / 2, box.y + box.height * 0.7) === one;
          if (!seen) one.scrollIntoView({ block: "center", inline: "center" });
        }"""
    )
    box = cell.bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] * 0.7


def tap(page: Page, surface: str, column: float) -> None:
    """Press and let go on a place."""
    page.mouse.click(*point(page, surface, column))


def carry(page: Page, start: tuple[str, float], end: tuple[str, float], *, drop: bool = True) -> None:
    """Carry a stroke with the mouse from one place to another."""
    x, y = point(page, *start)
    to_x, to_y = point(page, *end)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + (to_x - x) * 0.4, y + (to_y - y) * 0.4)
    page.mouse.move(to_x, to_y, steps=3)
    if drop:
        page.mouse.up()


def landing(page: Page) -> tuple[str, int] | None:
    """Where the carried stroke is shown, as line and column; None if it is not."""
    shown = page.locator("section.chosen g.landing")
    if shown.count() == 0:
        return None
    return str(shown.get_attribute("data-surface")), int(str(shown.get_attribute("data-at"))) // COLUMN


def focused(page: Page) -> str:
    """Name the element that has the keyboard, as a screen reader does."""
    name: str = page.evaluate(
        """() => {
          let one = document.activeElement;
          while (one.shadowRoot?.activeElement) one = one.shadowRoot.activeElement;
          return (one.ariaLabel || one.textContent || one.localName).trim();
        }"""
    )
    return name


def told(page: Page) -> Locator:
    """What a screen reader is told of the last change."""
    return page.locator('gb-stages p.told[role="status"]')


def picture(page: Page) -> str:
    """All that the stages show, as one text."""
    seen: str = page.evaluate(PICTURE)
    return seen


def changed(page: Page, before: str) -> str:
    """Wait until the stages show something else than before, and give that."""
    page.wait_for_function(f"(before) => ({PICTURE})() !== before", arg=before)
    return picture(page)


def seen_again(page: Page, wanted: str) -> None:
    """Wait until the stages show just this."""
    page.wait_for_function(f"(wanted) => ({PICTURE})() === wanted", arg=wanted)


def stages(page: Page, count: int) -> None:
    """Wait until there are so many stages, the base beat among them."""
    expect(page.locator("gb-stages section")).to_have_count(count)


def meaning(text: str) -> Any:
    """What a groove file or link means, whatever numbers its variations were given: from the engine, not the page."""
    view: dict[str, Any] = json.loads(answer(json.dumps({"ask": "open", "text": text})))
    told_of = ("meter", "bars", "columns", "title", "note", "tempo", "lines")
    strokes = ("at", "surface", "dynamic", "grace", "hand", "origin", "changed_by")
    return [view[name] for name in told_of] + [
        [
            stage["plain"],
            stage["name"],
            stage["note"],
            stage["on"],
            [[s[name] for name in strokes] for s in stage["strokes"]],
        ]
        for stage in view["stages"]
    ]


def settled(page: Page, text: str) -> None:
    """Wait until the address holds a link that means the same as this groove file."""
    wanted = meaning(text)
    page.wait_for_url(lambda url: "#" in url and meaning(url[url.index("#") :]) == wanted, timeout=10_000)


class Finger:
    """One finger on the glass, through the browser's own input: scrolling and gestures are its own."""

    def __init__(self, page: Page) -> None:
        self.session: CDPSession = page.context.new_cdp_session(page)
        self.at = (0.0, 0.0)

    def _send(self, kind: str, points: list[tuple[float, float]]) -> None:
        touches = [{"x": x, "y": y, "id": 1} for x, y in points]
        self.session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": touches})

    def down(self, x: float, y: float) -> None:
        """Put it down."""
        self.at = (x, y)
        self._send("touchStart", [self.at])

    def move(self, x: float, y: float, steps: int = 6) -> None:
        """Move it to a point, in steps."""
        x0, y0 = self.at
        for step in range(1, steps + 1):
            self.at = (x0 + (x - x0) * step / steps, y0 + (y - y0) * step / steps)
            self._send("touchMove", [self.at])

    def up(self) -> None:
        """Take it off."""
        self._send("touchEnd", [])
