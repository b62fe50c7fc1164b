"""How long from a key to the edited beat in the page, and how much crosses the boundary?

Real Chromium, the built page. A key adds or takes out a stroke of the base beat (everything after it grows anew); the
time runs from the event to the first change of the drawing in which the stroke stands or is gone; "all stages" runs to the
last change of any drawing before the next key. Keys come 250 ms apart, as a hand types (our choice), and once more as
fast as the drawing follows: then an edit waits for the whole answer to the one before. Bytes are those of question and
answer between page and worker. The reference is an empty round trip to a worker of the same page and the
next frame, in the same run.

    python3 engine bench edit_time
"""

from __future__ import annotations

import json
import shutil
import statistics

from playwright.sync_api import Page, sync_playwright

from groundbeat.codec.groove_read import read_groove
from groundbeat.codec.link import write_link
from groundbeat.site.build import DIST, build_if_stale
from groundbeat.site.server import serving

FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"]
EDITS = 60
ROWS = (
    'kind = "displace"\nsurface = "backbeat voice"\nat = "first backbeat"\nby = "1/16 later"',
    'kind = "embellish"\nclear-of = ["kick"]',
    'kind = "ostinato"\ncell = "sixteenth sixteenth eighth"',
    'kind = "orchestrate"\nsurface = "riding"\nto = "ride"\nthen = { at = "beats", to = "ride bell" }',
    'kind = "embellish"\nsurface = "kick"\nat = "upbeats free"\ndynamic = "soft"',
    'kind = "touch-up"\nchanges = ["+ floor tom 2:4a accent", "- kick 3:1", "= snare 4:4 accent L"]',
)

# Counts bytes between page and worker, and remembers when the last key was pressed and when the drawing changed next.
WATCH = """
const post = Worker.prototype.postMessage;
window.bytes = 0;
Worker.prototype.postMessage = function (message, ...rest) {
  if (message && message.text) window.bytes += message.text.length;
  return post.call(this, message, ...rest);
};
const listen = Worker.prototype.addEventListener;
const count = (event) => { if (event.data && event.data.text) window.bytes += event.data.text.length; };
const handler = Object.getOwnPropertyDescriptor(Worker.prototype, "onmessage");
Object.defineProperty(Worker.prototype, "onmessage", { ...handler, set(hear) {
  handler.set.call(this, (event) => { count(event); hear.call(this, event); });
} });
window.times = [];
window.whole = [];
let begun = null;
let pressed = 0;
let last = 0;
window.settle = () => window.whole.push(last - pressed);
addEventListener("keydown", (event) => { if (event.key === "Enter") pressed = begun = performance.now(); }, true);
window.watch = () => {
  const find = (root) => [...root.querySelectorAll("*")].flatMap((one) =>
    one.shadowRoot ? [...(one.matches("gb-lines[tall]") ? [one.shadowRoot] : []), ...find(one.shadowRoot)] : []);
  const strokes = (root) => root.querySelectorAll("[data-id]").length;
  const all = (root) => [...root.querySelectorAll("*")].flatMap((one) => one.shadowRoot ? [one.shadowRoot, ...all(one.shadowRoot)] : []);
  for (const root of all(document)) {
    if (!root.host.matches("gb-lines, gb-threads")) continue;
    new MutationObserver(() => { last = performance.now(); }).observe(root, { subtree: true, childList: true, attributes: true });
  }
  for (const root of find(document)) {
    let before = strokes(root);
    new MutationObserver(() => {
      const now = strokes(root);
      if (begun !== null && now !== before) { window.times.push(performance.now() - begun); begun = null; }
      before = now;
    }).observe(root, { subtree: true, childList: true });
  }
};
"""
ROUND_TRIP = """async () => {
  const blank = new Worker(document.documentElement.dataset.worker, { type: "module" });
  const times = [];
  for (let n = 0; n < 60; n += 1) {
    const begun = performance.now();
    await new Promise((resolve) => { blank.onmessage = resolve; blank.postMessage({ n, text: "{}" }); });
    await new Promise(requestAnimationFrame);
    times.push(performance.now() - begun);
  }
  blank.terminate();
  return times;
}"""


def document(bars: int) -> str:
    """A beat of so many bars on five surfaces with twelve variations."""
    rows = {
        "hi-hat": "x-x-x-x-x-x-x-x-",
        "snare": "----O--g-g--O---",
        "kick": "o------oo-------",
        "hi-hat-foot": "----x-------x---",
        "crash": "x---------------",
    }
    lines = "".join(f'{name} = "{"|".join([row] * bars)}"\n' for name, row in rows.items())
    stack = "".join(f"\n[[variation]]\n{row}\n" for row in ROWS * 2)
    return f'groundbeat = 1\ntitle = "{bars} bars"\n[base]\n{lines}{stack}'


def figures(times: list[float]) -> dict[str, float]:
    """Median, 95th percentile and longest, in ms."""
    row = sorted(times)
    return {
        "median": round(statistics.median(row), 1),
        "p95": round(row[int(len(row) * 0.95)], 1),
        "longest": round(row[-1], 1),
    }


def measure(page: Page, address: str, bars: int) -> dict[str, object]:
    """Edit the base beat by keys and take the times."""
    page.goto("about:blank")
    page.goto(f"{address}#{write_link(read_groove(document(bars)))}")
    page.locator("gb-starting").wait_for(state="detached", timeout=60_000)
    page.locator('section[data-stage="0"] h2 button').click()
    page.locator('section[data-stage="0"].chosen').wait_for()
    page.locator('section[data-stage="0"] [role="gridcell"] >> nth=1').focus()
    page.evaluate("watch()")
    told: dict[str, object] = {}
    for name, apart in (("as a hand types", 250), ("at once", 0)):
        page.evaluate("() => { times.length = 0; whole.length = 0; bytes = 0; }")
        press(page, apart)
        told[name] = {"edited stage": figures(page.evaluate("times"))}
        if apart:
            told[name] |= {"all stages": figures(page.evaluate("whole"))}  # type: ignore[operator]
            told["bytes an edit"] = round(page.evaluate("bytes") / EDITS)
    return told


def press(page: Page, apart: int) -> None:
    """Press the key EDITS times, so many ms apart, but never before the drawing has followed."""
    for n in range(EDITS):
        page.keyboard.press("Enter")
        page.locator("body").evaluate(
            "(_, n) => new Promise((done) => { const look = () => times.length > n ? done() : requestAnimationFrame(look);"
            " look(); })",
            n,
        )
        if apart:
            page.wait_for_timeout(apart)
            page.evaluate("settle()")


def main() -> None:
    """Print all figures as JSON."""
    build_if_stale(DIST)
    with serving(DIST) as address, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=FLAGS)
        page = browser.new_context(viewport={"width": 1280, "height": 900}, service_workers="block").new_page()
        page.add_init_script(WATCH)
        page.goto(address)
        page.locator("gb-starting").wait_for(state="detached", timeout=60_000)
        told: dict[str, object] = {"reference: round trip and frame": figures(page.evaluate(ROUND_TRIP))}
        for bars in (4, 16):
            told[f"{bars} bars x 12 stages"] = measure(page, address, bars)
        browser.close()
    print(json.dumps({"edit_time_ms": told}, indent=1))


if __name__ == "__main__":
    main()
