/**
 * Run lean.py in Pyodide under Node.
 *
 *     node lean.mjs PYODIDE ENGINE EXTRAS PLAN LEAN OUT
 *
 * PYODIDE: the folder of the npm package; ENGINE: the folder that holds groundbeat/; EXTRAS: the folder that
 * holds the packages for the second zip; PLAN: plan.json; LEAN: lean.py; OUT: an existing folder. Hashing is fixed, so that sets in compiled code come out in the same order every time.
 */

import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { pathToFileURL } from "node:url";

const [pyodide, engine, extras, plan, lean, out] = process.argv.slice(2).map((path) => resolve(path));
const { loadPyodide } = await import(pathToFileURL(`${pyodide}/pyodide.mjs`).href);
const python = await loadPyodide({ indexURL: `${pyodide}/`, env: { PYTHONHASHSEED: "0", HOME: "/home/pyodide" } });
python.FS.writeFile("/plan.json", readFileSync(plan));
python.mountNodeFS("/engine", engine);
python.mountNodeFS("/extras", extras);
python.mountNodeFS("/out", out);
try {
  python.runPython(readFileSync(lean, "utf8"));
} catch (error) {
  // The last error of the traceback and the engine's line before it say which module failed, and why.
  const lines = String(error.message).trim().split("\n");
  const what = lines.findLast((line) => /^[\w.]+: /.test(line)) ?? lines.at(-1);
  const where = lines.findLast((line) => line.includes("/engine/"))?.trim().replace("/engine/", "engine/");
  console.error(where ? `${what} (${where})` : what);
  process.exit(1);
}
