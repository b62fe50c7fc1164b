"""Hearing what the built page puts out: when its sound begins, in frames and by the page's clock.

A script that runs before the page's own puts a worklet beside the first node that plays. It tells every frame where sound
begins after silence, counted as the page's audio thread counts (processor.js says why), and changes nothing of the sound.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from groundbeat.site.build import DIST, build_if_stale
from groundbeat.site.server import serving

LISTENER = """
const QUIET = 2205; // frames of silence before an onset
class Onsets extends AudioWorkletProcessor {
  #next = -1;
  #lead = 0;
  #silent = QUIET;
  process([input]) {
    if (this.#next < 0) this.#next = currentFrame;
    this.#lead = Math.max(this.#lead, currentFrame - this.#next);
    const row = input[0];
    const other = input[1] ?? row;
    for (let k = 0; row !== undefined && k < row.length; k += 1) {
      if (row[k] === 0 && other[k] === 0) this.#silent += 1;
      else {
        if (this.#silent >= QUIET) this.port.postMessage({ frame: this.#next + k, lead: this.#lead });
        this.#silent = 0;
      }
    }
    if (row === undefined) this.#silent += 128;
    this.#next += 128;
    return true;
  }
}
registerProcessor("onsets", Onsets);
"""

BEFORE = """(() => {
  globalThis.heard = { onsets: [], context: null };
  const add = AudioWorklet.prototype.addModule;
  AudioWorklet.prototype.addModule = async function (...given) {
    await add.call(this, "/onsets.js");
    return add.apply(this, given);
  };
  const connect = AudioNode.prototype.connect;
  AudioNode.prototype.connect = function (...given) {
    if (this instanceof AudioWorkletNode && !heard.context) {
      heard.context = this.context;
      const ear = new AudioWorkletNode(this.context, "onsets", { numberOfOutputs: 1 });
      ear.port.onmessage = ({ data }) => heard.onsets.push({ ...data, told: performance.now() });
      connect.call(this, ear);
      connect.call(ear, this.context.destination); // silent; a node that leads nowhere is not asked
    }
    return connect.apply(this, given);
  };
})()"""


@contextmanager
def tapped(scratch: Path) -> Iterator[str]:
    """Serve the built page with the listener beside it; give the address."""
    build_if_stale(DIST)
    folder = scratch / "dist"
    shutil.copytree(DIST, folder)
    (folder / "onsets.js").write_text(LISTENER)
    with serving(folder) as address:
        yield address
