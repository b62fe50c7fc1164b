"""How do the page's sources become the few files that a browser loads?

esbuild bundles three programs apart, because they run in three places: the page, the engine's worker and the
audio thread. Names carry a hash of the content, so a host may let browsers keep them for ever. `index.html`
is rewritten to these names and told, in data attributes of its root element, where the other parts are; all
of them relative, so the folder works below any path:

    <html data-worker="app/worker-<hash>.js" data-processor="app/processor-<hash>.js"
          data-runtime="py/<hash>/" data-kit="kit/kit.json" data-stored="stored/">
"""

from __future__ import annotations

import json
import re
import shutil
import tempfile
from pathlib import Path

from groundbeat.site.fault import SiteError
from groundbeat.site.runtime import Runtime
from groundbeat.site.tools import CACHE, packages, run_node
from groundbeat.sound.setups import SETUPS, address

ENTRIES = {
    "page": "app/main.js",
    "worker": "engine/worker.js",
    "processor": "audio/processor.js",
    "style": "style.css",
}
"""What esbuild starts from, below web/."""

KITS = [
    {"name": kit.name, "label": kit.label, "about": kit.about, "address": f"kit/{address(kit)}"}
    for kit in SETUPS.values()
]
"""The kits that a listener can choose from, the usual one first."""

TARGET = "es2022"
"""Pyodide's own floor (Chrome 112, Firefox 112, Safari 16.4) has all of it."""


def bundle(out: Path, web: Path, runtime: Runtime, cache: Path = CACHE) -> dict[str, str]:
    """Bundle the page into `out`/app and return the new name of every entry, relative to `out`."""
    esbuild = packages(web) / "esbuild" / "bin" / "esbuild"
    for source in ENTRIES.values():
        if not (web / source).is_file():
            raise SiteError(f"web/{source} is missing: the page can't be built without it")
    # Source maps hold paths relative to the bundle: always the same depth below web/'s parent, the same
    # bytes.
    scratch = cache / "page"
    scratch.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=scratch, prefix="new-") as new:
        meta = Path(new) / "meta.json"
        arguments = [
            *(str(esbuild), *ENTRIES.values(), "--bundle", "--format=esm", "--minify", "--sourcemap"),
            *(f"--target={TARGET}", "--charset=utf8", "--log-level=warning", f"--outdir={new}/app"),
            *("--entry-names=[name]-[hash]", "--asset-names=[name]-[hash]", f"--metafile={meta}"),
            *("--loader:.woff2=file", "--loader:.svg=file"),
            f"--define:GROUNDBEAT_RUNTIME={json.dumps(runtime.facts)}",
            f"--define:GROUNDBEAT_KITS={json.dumps(KITS)}",
        ]
        run_node(arguments, cwd=web, what="bundling the page")
        outputs = json.loads(meta.read_text())["outputs"]
        shutil.copytree(Path(new) / "app", out / "app")
    named = {output["entryPoint"]: Path(path).name for path, output in outputs.items() if "entryPoint" in output}
    return {key: f"app/{named[source]}" for key, source in ENTRIES.items()}


def write_pages(out: Path, web: Path, names: dict[str, str], runtime: Runtime) -> None:
    """Write every page of `web` with the new names, and copy what is in web/public as it is."""
    if not (web / "index.html").is_file():
        raise SiteError("web/index.html is missing: the page can't be built without it")
    told = {
        "worker": names["worker"],
        "processor": names["processor"],
        "runtime": runtime.folder,
        "kit": "kit/kit.json",
        "stored": "stored/",
    }
    attributes = "".join(f' data-{key}="{value}"' for key, value in told.items())
    for source in sorted(web.glob("*.html")):
        text = source.read_text(encoding="utf-8")
        for key in ("page", "style"):
            text = re.sub(rf'(src|href)="(?:\./)?{re.escape(ENTRIES[key])}"', rf'\1="{names[key]}"', text)
        text, roots = re.subn(r"<html\b", lambda root: root[0] + attributes, text, count=1)
        if not roots:
            raise SiteError(f"web/{source.name} has no <html> element to tell the page where its parts are")
        if source.name == "index.html" and not all(names[key] in text for key in ("page", "style")):
            raise SiteError('web/index.html must load src="app/main.js" and href="style.css"')
        (out / source.name).write_text(text, encoding="utf-8")
    if (web / "public").is_dir():
        shutil.copytree(web / "public", out, dirs_exist_ok=True)
