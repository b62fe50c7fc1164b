"""What can the page show before the engine has started?

The answers that the engine itself gives to the example: its view and the timeline of its last stage, as the
page would have got them; and the list of common beats with their links.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from groundbeat.bridge.door import answer
from groundbeat.site.fault import SiteError

EXAMPLE = "slack-tide.toml"


def ask(source: str, request: dict[str, Any]) -> str:
    """Ask the engine and return its answer's text. Raises SiteError, naming `source`, if it refuses."""
    text = answer(json.dumps(request))
    refused = json.loads(text).get("refused")
    if refused:
        raise SiteError(f"examples/{source}: {refused['message']}")
    return str(text)


def write_stored(out: Path, examples: Path) -> None:
    """Write stored/ below `out` from the files in `examples`."""
    folder = out / "stored"
    folder.mkdir()
    view_text = _open(examples / EXAMPLE)
    view = json.loads(view_text)
    last = view["stages"][-1]["stage"]
    timeline = ask(EXAMPLE, {"ask": "timeline", "document": view["document"], "stage": last})
    beats = []
    for file in sorted((examples / "beats").glob("*.toml")):
        beat = json.loads(_open(file))
        if beat["link"] is None:
            raise SiteError(f"{file.name}: {beat['link_trouble']}")
        beats.append({"title": beat["title"], "about": beat["note"], "link": beat["link"]})
    if not beats:
        raise SiteError("there are no common beats in examples/beats/")
    listed = json.dumps(beats, ensure_ascii=False)
    for name, text in {"example.view": view_text, "example.timeline": timeline, "beats": listed}.items():
        (folder / f"{name}.json").write_text(text + "\n", encoding="utf-8")


def _open(file: Path) -> str:
    if not file.is_file():
        raise SiteError(f"examples/{file.name} is missing")
    return ask(file.name, {"ask": "open", "text": file.read_text(encoding="utf-8")})
