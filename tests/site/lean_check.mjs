/**
 * Start Pyodide under Node on the cut-down library and the engine's zips, as the worker does, and report as JSON.
 *
 *     node lean_check.mjs RUNTIME ENGINE_ZIP LATER_ZIPS < {"modules": [...], "requests": [...], "python": "..."}
 *
 * modules: what to import; requests: what to ask the door; later: what to ask it each time that one of LATER_ZIPS has come; python: what to run last, a string comes back.
 */

import { readFileSync } from "node:fs";
import { basename, resolve } from "node:path";
import { pathToFileURL } from "node:url";

const [runtime, zip, ...zips] = process.argv.slice(2).map((path) => resolve(path));
const wanted = JSON.parse(readFileSync(0, "utf8"));
const { loadPyodide } = await import(pathToFileURL(`${runtime}/pyodide.mjs`).href);
const python = await loadPyodide({
  indexURL: `${runtime}/`,
  stdLibURL: `${runtime}/stdlib.zip`,
  lockFileContents: { info: wanted.lock, packages: {} },
  packageBaseUrl: `${runtime}/`,
  fsInit: async (files) => files.writeFile("/lib/groundbeat.zip", readFileSync(zip)),
});
const run = (code) => python.runPython(code);
run("import sys; sys.path.insert(0, '/lib/groundbeat.zip')");
const door = run("from groundbeat.bridge.door import answer; answer");
const answers = wanted.requests.map((request) => JSON.parse(door(JSON.stringify(request))));
const later = zips.map((path) => {
  const name = basename(path).replace(/-.*/, ".zip");
  python.FS.writeFile(`/lib/${name}`, readFileSync(path));
  run(`import groundbeat; groundbeat.__path__.append('/lib/${name}/groundbeat')`);
  return wanted.later.map((request) => JSON.parse(door(JSON.stringify(request))));
});
const failed = {};
for (const name of wanted.modules) {
  try {
    run(`import ${name}`);
  } catch (error) {
    failed[name] = String(error.message).trim().split("\n").at(-1);
  }
}
const origins = run("[m.__spec__.origin for n, m in sys.modules.items() if n.startswith('groundbeat')]").toJs();
console.log(JSON.stringify({ answers, later, failed, origins, said: run(wanted.python) }));
