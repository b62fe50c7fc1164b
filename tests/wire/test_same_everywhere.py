"""The same document gives the same bytes in the shell, in the page, and whatever the hash seed."""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
import sys

import pytest

from groundbeat.bridge.door import answer
from tests.conftest import ROOT
from tests.wire.corpus import digests, documents, requests

# Ask the page's own worker, as the page does; answers come back in order.
ASK = """async (rows) => {
  const {worker, runtime} = document.documentElement.dataset;
  const made = new Worker(worker, {type: "module"});
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
    made.postMessage({start: {runtime: new URL(runtime, document.baseURI).href}});
  });
  made.terminate();
  return answers;
}"""


@pytest.fixture(scope="module")
def asked() -> list[str]:
    texts = documents(100)
    assert len(texts) == 100
    return requests(texts)


def test_the_hash_seed_decides_nothing(asked):
    runs = []
    for seed in ("1", "2"):
        env = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": f"{ROOT / 'engine'}{os.pathsep}{ROOT}"}
        done = subprocess.run(
            [sys.executable, "-m", "tests.wire.corpus"], input=json.dumps(asked), env=env, cwd=ROOT,
            capture_output=True, text=True, check=True,
        )  # fmt: skip
        runs.append(json.loads(done.stdout))
    assert runs[0] == runs[1] == digests(asked)


def test_page_and_shell_answer_the_same_bytes(asked, site, browser):
    page = browser.new_page()
    page.goto(site)
    answers = page.evaluate(ASK, asked)
    page.close()
    here = digests(asked)
    for row, told, digest in zip(asked, answers, here, strict=True):
        if hashlib.sha256(told.encode()).hexdigest() != digest:
            assert json.loads(told) == json.loads(answer(row)), row
            raise AssertionError(f"equal data in other bytes: {row[:200]}")


def test_the_page_makes_the_links_that_the_shell_makes(asked, site, browser):
    page = browser.new_page()
    page.goto(site)
    rows = [json.dumps({"ask": "link", "document": json.loads(row)["text"]}) for row in asked[::2]]
    told = [json.loads(text) for text in page.evaluate(ASK, rows)]
    page.close()
    assert [reply["fragment"] for reply in told] == [json.loads(answer(row))["fragment"] for row in rows]
