"""How long does the engine take, in CPython and in the page's worker?

Two documents: Slack Tide, and four bars of sixteenths on five surfaces with twelve variations. Each question is asked
of documents that the engine has not seen (another tempo each time), so nothing is answered from its memory. The
reference is one pass of json.loads and json.dumps over the same view, in the same process; ratios are against it.

"Playing" is who plays what, the fastest and the comfortable tempo, of four bars of sixteenths on five surfaces with
flams, drags, ruffs and diddles: in CPython, in the page's Python, and from one bar to sixteen, to see how it grows. "At
its worst" are sixteen full bars of thirty-seconds, which nobody plays: it takes long, but it ends.

    python3 engine bench engine_time
"""

from __future__ import annotations

import json
import shutil
import statistics
import time
from collections.abc import Callable
from dataclasses import replace

from playwright.sync_api import sync_playwright

from groundbeat.analysis.limbs import play
from groundbeat.analysis.player import read_player
from groundbeat.analysis.tempo import comfortable, fastest
from groundbeat.bridge.door import answer
from groundbeat.codec.groove_read import read_groove
from groundbeat.codec.groove_write import write_groove
from groundbeat.codec.link import read_link, write_link
from groundbeat.site.build import DIST, build_if_stale
from groundbeat.site.server import serving
from groundbeat.site.tools import ROOT
from groundbeat.variation.catalogue import kind
from groundbeat.variation.stack import add, base_stage, grow

ROUNDS = 40
FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"]

BIG = """groundbeat = 1
title = "Four bars"
[base]
hi-hat = "x-x-x-x-x-x-x-x-|x-x-x-x-x-x-x-x-|x-x-x-x-x-x-x-x-|x-x-x-x-x-x-xxxx"
snare = "----O-------O---|----O--g-g--O---|----O-------O---|----O--g-g--O-gg"
kick = "o------oo-------|o-o----oo-------|o------oo-------|o--o---o--o-----"
hi-hat-foot = "----x-------x---|%|%|%"
crash = "x---------------|----------------|%|%"
"""
ROWS = (
    'kind = "displace"\nsurface = "backbeat voice"\nat = "first backbeat"\nby = "1/16 later"',
    'kind = "embellish"\nclear-of = ["kick"]',
    'kind = "ostinato"\ncell = "sixteenth sixteenth eighth"',
    'kind = "orchestrate"\nsurface = "riding"\nto = "ride"\nthen = { at = "beats", to = "ride bell" }',
    'kind = "embellish"\nsurface = "kick"\nat = "upbeats free"\ndynamic = "soft"',
    'kind = "touch-up"\nchanges = ["+ floor tom 2:4a accent", "- kick 3:1", "= snare 4:4 accent L"]',
)
BIG += "".join(f"\n[[variation]]\n{row}\n" for row in ROWS * 2)

KINDS = (
    "permute", "double-up", "hand-to-foot", "dynamics", "sticking", "leave-space", "grouping", "linear", "hands-and-lead",
    "half-time", "fill", "feel",
)  # fmt: skip


def other_kinds() -> str:
    """The same four bars with twelve other kinds of variation, each as a new one begins."""
    groove = replace(read_groove(BIG), variations=(), next_key=1)
    for name in KINDS:
        groove = add(groove, name, kind(name).start)
    return "".join(line for line in write_groove(groove).splitlines(keepends=True) if not line.startswith("tempo"))


SIXTEENTHS = {
    "hi-hat": ("x-x-x-x-x-x-x-x-", "x-x-xxx-x-x-xxx-", "xxxxxxx-x-x-x-x-", "x-x-x-x-x-x-----"),
    "snare": ("----O--g-g--O--g", "-g--O--g-g--O--g", "----O--g----Og-g", "----O--g-g--OgOg"),
    "kick": ("o------oo-------", "o-o----oo-------", "o------oo-------", "o--o---o--o-----"),
    "hi-hat-foot": ("----x-------x---",) * 4,
    "floor-tom": ("----------------", "--------------o-", "----------------", "-------------o-o"),
}
ORNAMENTS = {7: "drag", 9: "diddle", 12: "flam", 15: "ruff"}  # by the sixteenth, where no other hand is busy


def sixteenths(bars: int) -> str:
    """The link of so many bars of sixteenths on five surfaces with graces."""
    lines = "".join(
        f'{name} = "{"|".join(rows[bar % 4] for bar in range(bars))}"\n' for name, rows in SIXTEENTHS.items()
    )
    groove = read_groove(f"groundbeat = 1\ntempo = 90\n[base]\n{lines}")
    busy = {stroke.at for stroke in groove.base.strokes if stroke.surface in ("hi-hat", "floor tom")}
    strokes = tuple(
        replace(stroke, grace=ORNAMENTS.get(stroke.at // 2520 % 16, ""))
        if stroke.surface == "snare" and stroke.at not in busy
        else stroke
        for stroke in groove.base.strokes
    )
    return write_link(replace(groove, base=replace(groove.base, strokes=strokes)))


def worst(name: str) -> str:
    """The link of sixteen full bars of thirty-seconds: one drum, kicks on two pedals under a hi-hat, or five voices."""
    surfaces = {"one drum": ("snare",), "double pedal": ("hi-hat", "kick")}
    lines = "".join(
        f'{surface} = "{"|".join(["x" * 32 if surface in ("hi-hat", "ride", "crash") else "o" * 32] * 16)}"\n'
        for surface in surfaces.get(name, ("hi-hat", "ride", "snare", "floor-tom", "crash"))
    )
    return write_link(read_groove(f'groundbeat = 1\ncolumns = "thirty-seconds"\ntempo = 90\n[base]\n{lines}'))


def playing() -> dict[str, dict[str, float]]:
    """Processor time of playing, in ms: the median by bars, and one try at its worst at three tempos."""

    def once(link: str, player: str = "", tempo: int = 0) -> float:
        groove = read_link(link).groove
        stage = base_stage(groove)
        begun = time.process_time()
        found = play(groove, stage, read_player(player), tempo)
        if not tempo:
            fastest(found)
            comfortable(found)
        return (time.process_time() - begun) * 1000

    told = {
        f"{bars} bars": {"all three": round(statistics.median(once(sixteenths(bars)) for _ in range(ROUNDS // 2)), 2)}
        for bars in (1, 2, 4, 8, 16)
    }
    for name, player in (("one drum", ""), ("double pedal", "double pedal"), ("five voices", "")):
        told[f"at its worst: {name}"] = {
            f"play at {tempo // 100}": round(once(worst(name), player, tempo), 1) for tempo in (2000, 9000, 40000)
        } | {"all three": round(once(worst(name), player), 1)}
    return told


IN_PAGE = """async (rows) => {
  const {worker, runtime} = document.documentElement.dataset;
  const made = new Worker(worker, {type: "module"});
  const times = await new Promise((resolve, reject) => {
    const got = [];
    let begun = 0;
    const next = () => { begun = performance.now(); made.postMessage({n: got.length, text: rows[got.length]}); };
    made.onmessage = ({data}) => {
      if (data.failed) reject(new Error(data.failed.message));
      if (data.progress?.stage === "ready") next();
      if (data.text === undefined) return;
      got.push(performance.now() - begun);
      if (got.length === rows.length) resolve(got); else next();
    };
    made.postMessage({start: {runtime: new URL(runtime, document.baseURI).href}});
  });
  made.terminate();
  return times;
}"""


# The runtime of the page without its worker, so that growing can be timed by itself, in Python's own clock.
GROW_IN_PAGE = """async ({runtime, engine, playing, lock, links, beats, rounds}) => {
  const {loadPyodide} = await import(new URL("pyodide.mjs", runtime).href);
  const bytes = async (name) => new Uint8Array(await (await fetch(new URL(name, runtime))).arrayBuffer());
  const zips = [await bytes(engine), await bytes(playing)];
  const python = await loadPyodide({
    indexURL: runtime, packageBaseUrl: runtime, stdLibURL: new URL("stdlib.zip", runtime).href,
    lockFileContents: {info: lock, packages: {}}, fsInit: async (disk) => ["groundbeat", "playing"].forEach((name, i) => disk.writeFile(`/lib/${name}.zip`, zips[i])),
  });
  python.globals.set("links", python.toPy(links));
  python.globals.set("beats", python.toPy(beats));
  return python.runPython(`
import json, statistics, sys, time
sys.path.insert(0, "/lib/groundbeat.zip")
import groundbeat; groundbeat.__path__.append("/lib/playing.zip/groundbeat")
from groundbeat.codec.link import read_link
from groundbeat.analysis.limbs import play
from groundbeat.analysis.tempo import comfortable, fastest
from groundbeat.variation.stack import base_stage, grow
def timed(work):
    times = []
    for _ in range(${rounds}):
        begun = time.perf_counter()
        work()
        times.append((time.perf_counter() - begun) * 1000)
    return statistics.median(times)
def told(link):
    groove = read_link(link).groove
    first = timed(lambda: grow(groove))
    return {"first rounds": first, "later": timed(lambda: [grow(groove) for _ in range(10)]) / 10}
def played(link):
    groove = read_link(link).groove
    stage = base_stage(groove)
    def all_three():
        found = play(groove, stage)
        fastest(found)
        comfortable(found)
    return {"first rounds": timed(all_three), "later": timed(all_three)}
json.dumps({f"playing {name}": played(link) for name, link in beats.items()} | {name: told(link) for name, link in links.items()} | {"reference": {"later": timed(lambda: sum(range(10000)))}})
`);
}"""


def grown_in_page(texts: dict[str, str]) -> dict[str, dict[str, float]]:
    """Median time of growing all stages in the page's Python, in ms, beside that of adding up ten thousand numbers.

    The browser compiles the runtime better while it works, so the first rounds are told apart from those after them.
    """
    build_if_stale(DIST)
    runtime = next((DIST / "py").iterdir())
    lock = json.loads((ROOT / "web" / "node_modules" / "pyodide" / "pyodide-lock.json").read_text())["info"]
    links = {name: write_link(read_groove(text)) for name, text in texts.items()}
    with serving(DIST) as address, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=FLAGS)
        tab = browser.new_context(bypass_csp=True, service_workers="block").new_page()
        tab.goto(address)
        told = tab.evaluate(
            GROW_IN_PAGE,
            {
                "runtime": f"{address}py/{runtime.name}/",
                "engine": next(runtime.glob("engine-*.zip")).name,
                "playing": next(runtime.glob("playing-*.zip")).name,
                "lock": lock, "links": links, "rounds": ROUNDS,
                "beats": {f"{bars} bars": sixteenths(bars) for bars in (1, 4, 16)},
            },
        )  # fmt: skip
        browser.close()
    return {name: {when: round(ms, 3) for when, ms in row.items()} for name, row in json.loads(told).items()}


def fresh(text: str, count: int) -> list[str]:
    """The same document at so many tempi."""
    return [text.replace("[base]", f"tempo = {60 + n}.{n % 90 + 10}\n[base]", 1) for n in range(count)]


def median_ms(work: Callable[[str], object], rows: list[str]) -> float:
    """Median time of one piece of work over fresh documents, in ms."""
    times = []
    for row in rows:
        begun = time.perf_counter()
        work(row)
        times.append((time.perf_counter() - begun) * 1000)
    return statistics.median(times)


def desk(text: str) -> dict[str, float]:
    """Measure in CPython."""
    rows = fresh(text, ROUNDS)
    grooves = [read_groove(row) for row in rows]
    links = [write_link(groove) for groove in grooves]
    by_row = dict(zip(rows, grooves, strict=True))
    by_link = dict(zip(links, grooves, strict=True))
    view = answer(json.dumps({"ask": "open", "text": text}))
    told = {
        "reference: JSON of the view there and back": median_ms(lambda row: json.dumps(json.loads(view)), rows),
        "read a groove file": median_ms(read_groove, rows),
        "write a groove file": median_ms(lambda row: write_groove(by_row[row]), rows),
        "write a link": median_ms(lambda row: write_link(by_row[row]), rows),
        "read a link": median_ms(read_link, links),
        "grow all stages": median_ms(lambda link: grow(by_link[link]), links),
        "question open, whole": median_ms(lambda row: answer(json.dumps({"ask": "open", "text": row + "\n"})), rows),
        "question timeline": median_ms(
            lambda row: answer(json.dumps({"ask": "timeline", "document": row, "stage": 1})), rows
        ),
    }
    reference = told["reference: JSON of the view there and back"]
    return {name: round(ms, 3) for name, ms in told.items()} | {
        f"ratio: {name}": round(ms / reference, 2) for name, ms in told.items() if not name.startswith("reference")
    }


def page(texts: dict[str, str]) -> dict[str, dict[str, float]]:
    """Measure in the page's worker, from asking to the answer's arrival."""
    build_if_stale(DIST)
    told = {}
    with serving(DIST) as address, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=FLAGS)
        tab = browser.new_page()
        tab.goto(address)
        for name, text in texts.items():
            rows = fresh(text, ROUNDS)
            asked = [json.dumps({"ask": "hello"})] * 10
            asked += [json.dumps({"ask": "open", "text": row}) for row in rows]
            asked += [json.dumps({"ask": "timeline", "document": row, "stage": 1}) for row in rows]
            times = tab.evaluate(IN_PAGE, asked)
            hello, opened, timed = times[2:10], times[12 : 10 + ROUNDS], times[12 + ROUNDS :]
            told[name] = {
                "reference: question hello": round(statistics.median(hello), 3),
                "question open, whole": round(statistics.median(opened), 3),
                "question timeline": round(statistics.median(timed), 3),
            }
        browser.close()
    return told


def main() -> None:
    """Print all figures as JSON, in ms."""
    texts = {"slack tide": (ROOT / "examples" / "slack-tide.toml").read_text().replace("tempo   = 92\n", "")}
    texts["4 bars, 12 variations"] = BIG
    texts["4 bars, 12 other kinds"] = other_kinds()
    told = {
        "CPython": {name: desk(text) for name, text in texts.items()},
        "playing": playing(),
        "page": page(texts),
        "grow and play in the page": grown_in_page(texts),
    }
    print(json.dumps({"engine_time_ms": told}, indent=1))


if __name__ == "__main__":
    main()
