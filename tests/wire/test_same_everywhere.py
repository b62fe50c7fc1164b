"""The same document gives the same bytes in the shell, in the page, and whatever the hash seed."""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
import sys

import pytest

from groundbeat.bridge.door import answer
from tests.browser.started import QUIET
from tests.conftest import EXAMPLES, ROOT
from tests.wire.corpus import about_playing, digests, documents, requests

# Ask the page's own worker, as the page does; answers come back in order. The page itself, which would start another,
# is only read.
ASK = """async ([site, rows]) => {
  const text = await (await fetch(site)).text();
  const {worker, runtime} = new DOMParser().parseFromString(text, "text/html").documentElement.dataset;
  const made = new Worker(new URL(worker, site), {type: "module"});
  const answers = await new Promise((resolve, reject) => {
    const got = [];
    made.onerror = (event) => reject(new Error(event.message));
    made.onmessage = ({data}) => {
      if (data.failed) reject(new Error(data.failed.message ?? data.failed.code));
      if (data.progress?.stage === "ready")
        rows.forEach((text, n) => made.postMessage({n, text}));
      if (data.text !== undefined) {
        got[data.n] = data.text;
        if (got.filter((text) => text !== undefined).length === rows.length) resolve(got);
      }
    };
    made.postMessage({start: {runtime: new URL(runtime, site).href}});
  });
  made.terminate();
  return answers;
}"""


@pytest.fixture(scope="module")
def asked() -> list[str]:
    texts = documents(100)
    assert len(texts) == 100
    return requests(texts)


@pytest.fixture(scope="module")
def studied() -> dict[str, str]:
    """Questions about playing the examples, and what the engine answers here."""
    rows = about_playing(sorted(EXAMPLES.rglob("*.toml"), key=lambda path: (path.stem != "slack-tide", path)))
    found = {row: answer(row) for row in rows}
    assert len(found) > 80 and [row for row, text in found.items() if "refused" in json.loads(text)] == []
    return found


def test_the_hash_seed_decides_nothing(asked, studied):
    asked = asked + list(studied)[::6]
    runs = []
    for seed in ("1", "2"):
        env = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": f"{ROOT / 'engine'}{os.pathsep}{ROOT}"}
        done = subprocess.run(
            [sys.executable, "-m", "tests.wire.corpus"], input=json.dumps(asked), env=env, cwd=ROOT,
            capture_output=True, text=True, check=True,
        )  # fmt: skip
        runs.append(json.loads(done.stdout))
    assert runs[0] == runs[1] == digests(asked)


@pytest.fixture(scope="module")
def told(asked, studied, site, browser) -> dict[str, str]:
    """What one worker in Chromium answers, by question: all that are asked, and the links of the documents."""
    rows = [*asked, *studied, *links(asked)]
    page = browser.new_page()
    page.goto(site + QUIET)
    answers = page.evaluate(ASK, [site, rows])
    page.close()
    return dict(zip(rows, answers, strict=True))


def links(asked: list[str]) -> list[str]:
    """Ask for the link of every document."""
    return [json.dumps({"ask": "link", "document": json.loads(row)["text"]}) for row in asked[::2]]


def test_page_and_shell_answer_the_same_bytes(asked, studied, told):
    here = dict(zip(asked, digests(asked), strict=True))
    here |= {row: hashlib.sha256(text.encode()).hexdigest() for row, text in studied.items()}
    for row, digest in here.items():
        if hashlib.sha256(told[row].encode()).hexdigest() != digest:
            assert json.loads(told[row]) == json.loads(answer(row)), row
            raise AssertionError(f"equal data in other bytes: {row[:200]}")


def test_the_page_makes_the_links_that_the_shell_makes(asked, told):
    for row in links(asked):
        assert json.loads(told[row])["fragment"] == json.loads(answer(row))["fragment"]
