"""One started engine for many pages, because starting Python takes seconds and a page without it a quarter of one.

The engine's real worker lives in a page that does nothing else. Every test page is opened from there, as new as any:
its own document, program, store and sound. Only where it makes its worker is it handed a stand-in, which passes the
questions on to the one that runs. That is no loss to a test of the page: the engine answers each question from the
question's text alone (tests/bridge/test_door.py holds that), and how an engine starts, fails and is replaced is tested
with an engine of the page's own (tests/browser/page/test_failing.py, tests/site/test_page_starts.py).

An engine that a page ends, or whose test has failed, is given up with its whole context.
"""

from __future__ import annotations

from typing import Any

from playwright.sync_api import Browser, Page

QUIET = "kit/kit.json"
"""A file of the folder that runs no program: where the engine lives."""

START = """async (site) => {
  const text = await (await fetch(site)).text();
  const { worker, runtime } = new DOMParser().parseFromString(text, "text/html").documentElement.dataset;
  window.engine = {
    worker: new Worker(new URL(worker, site), { type: "module" }),
    asked: 0,
    askers: new Map(), // by number: who hears what is told of the question
    lost: false,
  };
  await new Promise((ready, failed) => {
    engine.worker.onmessage = ({ data }) => {
      if (data.progress?.stage === "ready") ready();
      if (data.failed) failed(new Error(data.failed.message));
    };
    engine.worker.onerror = () => failed(new Error("the worker did not load"));
    engine.worker.postMessage({ start: { runtime: new URL(runtime, site).href } });
  });
  const lose = (failed) => {
    engine.lost = true;
    for (const hear of engine.askers.values()) hear({ failed });
  };
  engine.worker.onerror = () => lose({ code: "engine.crashed", message: "The engine stopped." });
  engine.worker.onmessage = ({ data }) => {
    if (data.failed) lose(data.failed);
    else engine.askers.get(data.n)?.(data);
  };
}"""

STAND_IN = """{
  const { engine } = opener;
  const Own = Worker;
  globalThis.Worker = class {
    onmessage = null;

    constructor(...given) {
      if (engine.lost) return new Own(...given);
    }

    postMessage(message) {
      const tell = (data) => closed || this.onmessage?.({ data }); // closed: this page was left meanwhile
      if (message.start) {
        setTimeout(() => tell({ progress: { stage: "ready", done: 1 } }));
        return;
      }
      engine.asked += 1; // every page counts from 1; here each question has a number of its own
      engine.askers.set(engine.asked, (told) => tell(told.n ? { ...told, n: message.n } : told));
      engine.worker.postMessage({ ...message, n: engine.asked });
    }

    terminate() {
      this.onmessage = null;
      engine.lost = true;
    }
  };
}
"""


def opened_from(home: Page) -> Page:
    """Open an empty page whose engine will be the one at home."""
    with home.expect_popup() as popup:
        home.evaluate("() => { open('about:blank'); }")
    popup.value.add_init_script(STAND_IN)
    return popup.value


class Started:
    """A context with an engine that runs, and pages opened beside it one after the other."""

    def __init__(self, browser: Browser, site: str, settings: dict[str, Any]) -> None:
        self.context = browser.new_context(**settings)
        self.home = self.context.new_page()
        self.home.goto(site + QUIET)
        self.home.evaluate(START, site)

    def new_page(self) -> Page:
        """Give a page that nobody has been to, in a browser that remembers nothing; its address is still empty."""
        self.home.evaluate("() => { localStorage.clear(); engine.askers.clear(); }")
        return opened_from(self.home)

    def leave(self) -> bool:
        """Close the page; tell whether the engine can serve another one."""
        for page in self.context.pages:
            if page is not self.home:
                page.close()
        return bool(self.home.evaluate("() => !engine.lost"))

    def close(self) -> None:
        """End the engine and all that it served."""
        self.context.close()


class Engines:
    """The engines that run, by the settings of their contexts."""

    def __init__(self, browser: Browser, site: str) -> None:
        self._browser = browser
        self._site = site
        self._running: dict[str, Started] = {}

    def take(self, settings: dict[str, Any]) -> Started:
        """Give the engine of such a context, out of the store until it is put back; started where there is none."""
        return self._running.pop(repr(sorted(settings.items())), None) or Started(self._browser, self._site, settings)

    def put_back(self, settings: dict[str, Any], started: Started) -> None:
        """Keep the engine for the next page."""
        self._running[repr(sorted(settings.items()))] = started

    def close(self) -> None:
        """End them all."""
        for started in self._running.values():
            started.close()
