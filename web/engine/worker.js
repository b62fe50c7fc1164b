/**
 * The engine's worker: Python in WebAssembly, behind one function of text.
 *
 * In:  {start: {runtime: "https://.../py/<hash>/"}} first, then {n, text} for every question.
 * Out: {progress: {stage, done}}, {n, text} for every answer, {failed: {code, message}} when it can't go on.
 *
 * The address of the runtime comes as a message and never in this worker's own URL: a service worker that answers
 * from its cache would lose it there. The three big files are asked for at once, before Pyodide's loader is read.
 * What a first answer does not need comes later, in zips of its own: how beats are played, how they are written, and
 * packages that few visits use. An answer may say that it needs one of them; then that is fetched and the question is
 * asked again, and may need another. If one does not come, that question is refused and a later one tries anew.
 *
 * Where WebAssembly is blocked, Pyodide's loader never settles; so that is asked first, with the smallest module.
 */

/** @typedef {import("pyodide").PyodideAPI} PyodideAPI */
/** @typedef {"playing" | "notation" | "extras"} Part */
/** @typedef {"runtime" | "library" | "engine" | "ready"} Stage */

/** The eight bytes of an empty module: magic number and version. */
const EMPTY_MODULE = new Uint8Array([0, 0x61, 0x73, 0x6d, 1, 0, 0, 0]);
/** Progress is told each time this share of the download has come, so that it costs nothing. Our choice. */
const STEP = 0.02;
/** Where the engine's zip stands in the worker's file system. */
const ENGINE_ZIP = "/lib/groundbeat.zip";
/** What the door answers where it lacks a part that comes later. */
const NEEDS = /^\{"needs":"(playing|notation|extras)"\}$/;
/** How long such a part may take, in ms. Our choice: less than a question may, so that the worker outlives a slow net. */
const PATIENCE = 15_000;

/** @type {((text: string) => string) | null} */
let answer = null;
/** @type {RequestCache} how parts are fetched: after a failure past the browser's cache, which may keep the fault */
let cache = "default";
/** @type {((part: Part) => Promise<void>) | null} puts a part where Python finds it; rejects with Missing */
let addPart = null;

self.onmessage = (event) => {
  const message = event.data;
  if (message.start) void start(message.start.runtime);
  else void reply(message.n, message.text);
};

/** @param {number} n @param {string} text */
async function reply(n, text) {
  try {
    if (!answer || !addPart) throw new Error("asked before the engine was ready");
    let told = answer(text);
    for (let needs = NEEDS.exec(told), last = ""; needs && needs[1] !== last; needs = NEEDS.exec(told)) {
      last = needs[1];
      await addPart(/** @type {Part} */ (last));
      told = answer(text);
    }
    // Still lacking: what came is not what was built. The engine itself is well, so only this question is refused.
    if (NEEDS.test(told)) told = refusal("engine.broken", "A part of the engine has a fault. Please report it.");
    self.postMessage({ n, text: told });
  } catch (error) {
    if (error instanceof Missing) {
      self.postMessage({ n, text: refusal("engine.network", didNotArrive(error)) });
      return;
    }
    // The door answers everything that can go wrong in the engine: here the interpreter itself has died.
    fail("engine.crashed", `The engine stopped: ${lastLine(error)}`);
  }
}

/** @param {string} runtime */
async function start(runtime) {
  try {
    new WebAssembly.Module(EMPTY_MODULE);
  } catch {
    fail("engine.wasm-blocked");
    return;
  }
  let python;
  try {
    python = await load(runtime);
  } catch (error) {
    if (error instanceof Missing) fail("engine.network", didNotArrive(error));
    else fail("engine.broken", `The engine did not start: ${lastLine(error)}`);
    return;
  }
  try {
    progress("engine", 0);
    answer = python.runPython(
      `import sys; sys.path.insert(0, ${JSON.stringify(ENGINE_ZIP)}); ` +
        `from groundbeat.bridge.door import answer; answer`,
    );
    addPart = (part) => fetchPart(python, runtime, part);
    progress("ready", 1);
  } catch (error) {
    fail("engine.broken", `The engine did not start: ${lastLine(error)}`);
  }
}

/** @param {string} runtime @returns {Promise<PyodideAPI>} */
async function load(runtime) {
  const { wasm, stdlib, engine, lock } = GROUNDBEAT_RUNTIME;
  const total = wasm.size + stdlib.size + engine.size;
  let came = 0;
  let told = 0;
  /** @param {number} bytes */
  const count = (bytes) => {
    came += bytes;
    if (came - told < total * STEP && came < total) return;
    told = came;
    progress("runtime", Math.min(1, came / total));
  };
  progress("runtime", 0);
  // A file that does not come must end the start: Pyodide itself would go on waiting for it.
  let missing = (/** @type {Missing} */ _) => {};
  const broken = /** @type {Promise<never>} */ (new Promise((_, reject) => (missing = reject)));
  const file = (/** @type {{ name: string }} */ { name }) => counted(name, runtime, count, missing);
  const wasmFile = file(wasm);
  const stdlibFile = file(stdlib);
  const engineFile = file(engine).then((response) => response.arrayBuffer());
  // Pyodide fetches by itself; what is on its way already is handed over instead.
  const fetchAnew = self.fetch.bind(self);
  self.fetch = (input, init) => {
    const asked = String(input instanceof Request ? input.url : input);
    if (asked === new URL(wasm.name, runtime).href) return wasmFile;
    if (asked === new URL(stdlib.name, runtime).href) return stdlibFile;
    return fetchAnew(input, init);
  };
  const loaded = async () => {
    const program = (/** @type {string} */ name) =>
      import(new URL(name, runtime).href).catch(() => {
        throw new Missing(name);
      });
    // The second is imported by the first; asked for here it comes at the same time.
    const [{ loadPyodide }] = await Promise.all([program("pyodide.mjs"), program("pyodide.asm.mjs")]);
    return loadPyodide({
      indexURL: runtime,
      packageBaseUrl: runtime,
      stdLibURL: new URL(stdlib.name, runtime).href,
      lockFileContents: { info: lock, packages: {} },
      fsInit: async (/** @type {{ writeFile(path: string, data: Uint8Array): void }} */ disk) => {
        disk.writeFile(ENGINE_ZIP, new Uint8Array(await engineFile));
        progress("library", 0);
      },
    });
  };
  return Promise.race([loaded(), broken]).finally(() => {
    self.fetch = fetchAnew;
  });
}

/**
 * Fetch a part and tell Python where it is.
 * @param {PyodideAPI} python @param {string} runtime @param {Part} part
 */
async function fetchPart(python, runtime, part) {
  const { name, size } = GROUNDBEAT_RUNTIME[part];
  let bytes;
  try {
    const response = await fetch(new URL(name, runtime), { cache, signal: AbortSignal.timeout(PATIENCE) });
    bytes = new Uint8Array(await response.arrayBuffer());
    if (!response.ok || bytes.length !== size) throw new Error("not whole");
  } catch {
    cache = "reload";
    throw new Missing(name);
  }
  const zip = `/lib/${part}.zip`;
  python.FS.writeFile(zip, bytes);
  // Last, so that it can hide nothing; and once, though it may have been asked for again.
  const [where, path] = part === "extras" ? ["sys", zip] : ["groundbeat", `${zip}/groundbeat`];
  const rows = part === "extras" ? "sys.path" : "groundbeat.__path__";
  python.runPython(`import ${where}; ${rows}.extend([] if ${JSON.stringify(path)} in ${rows} else [${JSON.stringify(path)}])`);
}

/** A file of the runtime that did not come, or not whole. Its message is the file's name. */
class Missing extends Error {}

/**
 * Fetch one file of the runtime and count its bytes as they come.
 * @param {string} name @param {string} runtime
 * @param {(bytes: number) => void} count @param {(fault: Missing) => void} missing
 * @returns {Promise<Response>} never rejects; a file that does not come is told to `missing`
 */
async function counted(name, runtime, count, missing) {
  const type = name.endsWith(".wasm") ? "application/wasm" : "application/octet-stream";
  const counter = new TransformStream({
    transform(/** @type {Uint8Array} */ chunk, controller) {
      count(chunk.byteLength);
      controller.enqueue(chunk);
    },
  });
  fetch(new URL(name, runtime))
    .then((response) => {
      if (!response.ok || !response.body) throw new Error(String(response.status));
      return response.body.pipeTo(counter.writable);
    })
    .catch(() => missing(new Missing(name)));
  return new Response(counter.readable, { headers: { "Content-Type": type } });
}

/** @param {Stage} stage @param {number} done */
function progress(stage, done) {
  self.postMessage({ progress: { stage, done } });
}

/** @param {string} code @param {string} [message] */
function fail(code, message) {
  self.postMessage({ failed: { code, message } });
}

/** A refusal as the door writes them, for what the door can't know. @param {string} code @param {string} message */
function refusal(code, message) {
  return JSON.stringify({ refused: { code, message, field: null } });
}

/** @param {Missing} fault */
function didNotArrive(fault) {
  return `A part of the engine did not arrive (${fault.message}). Check the connection, then try again.`;
}

/** The last line of a Python traceback is what went wrong. @param {unknown} error */
function lastLine(error) {
  const text = error instanceof Error ? error.message : String(error);
  return text.trim().split("\n").at(-1) ?? "";
}
