"""A page that can really be hidden behind another tab, as a person does it.

Playwright keeps its own pages in front for ever (it emulates their focus), so this one is opened in the browser's own
window, beyond Playwright's contexts, and spoken to through the browser's debugging session.
"""

from __future__ import annotations

import json
import time
from typing import Any

from playwright.sync_api import Browser


class HideablePage:
    """One tab of the browser's window, with another that can be brought to the front of it."""

    def __init__(self, browser: Browser, address: str) -> None:
        self.faults: list[str] = []
        self._session = browser.new_browser_cdp_session()
        self._replies: dict[int, dict[str, Any]] = {}
        self._asked = 0
        self._target = self._create("about:blank")
        attached = self._session.send("Target.attachToTarget", {"targetId": self._target, "flatten": False})
        self._attached = attached["sessionId"]
        self._session.on("Target.receivedMessageFromTarget", self._hear)
        for domain in ("Runtime.enable", "Page.enable"):
            self._ask(domain)
        self._ask("Page.navigate", url=address)
        while self.evaluate("document.readyState") != "complete" or self.evaluate("location.href") != address:
            time.sleep(0.02)
        self._other = ""

    def evaluate(self, expression: str) -> Any:
        """Evaluate an expression as inside a user's gesture, wait if it is a promise, and return its value."""
        told = self._ask(
            "Runtime.evaluate", expression=expression, returnByValue=True, awaitPromise=True, userGesture=True
        )
        if "exceptionDetails" in told:
            raise AssertionError(told["exceptionDetails"])
        return told["result"].get("value")

    def hide(self) -> None:
        """Bring another tab to the front of the window."""
        if not self._other:
            self._other = self._create("about:blank")
        self._session.send("Target.activateTarget", {"targetId": self._other})

    def show(self) -> None:
        """Bring the page to the front again."""
        self._session.send("Target.activateTarget", {"targetId": self._target})

    def close(self) -> None:
        """Close both tabs."""
        for target in filter(None, (self._other, self._target)):
            self._session.send("Target.closeTarget", {"targetId": target})
        self._session.detach()

    def _create(self, address: str) -> str:
        target: str = self._session.send("Target.createTarget", {"url": address})["targetId"]
        return target

    def _ask(self, method: str, **given: Any) -> dict[str, Any]:
        self._asked += 1
        number = self._asked
        message = json.dumps({"id": number, "method": method, "params": given})
        self._session.send("Target.sendMessageToTarget", {"sessionId": self._attached, "message": message})
        while number not in self._replies:
            self._session.send("Browser.getVersion")  # lets what has come in be heard
            time.sleep(0.01)
        reply = self._replies.pop(number)
        if "error" in reply:
            raise AssertionError(reply["error"])
        result: dict[str, Any] = reply["result"]
        return result

    def _hear(self, event: dict[str, Any]) -> None:
        message = json.loads(event["message"])
        if "id" in message:
            self._replies[message["id"]] = message
        elif message["method"] == "Runtime.exceptionThrown":
            self.faults.append(str(message["params"]["exceptionDetails"]))
        elif message["method"] == "Runtime.consoleAPICalled" and message["params"]["type"] == "error":
            self.faults.append(str(message["params"]["args"]))
