/**
 * What the build writes into the worker (esbuild `define`): the names inside the runtime folder, the sizes in bytes
 * as they are after decompression, and Pyodide's own description of itself, which saves a request.
 */
declare const GROUNDBEAT_RUNTIME: {
  wasm: { name: string; size: number };
  stdlib: { name: string; size: number };
  engine: { name: string; size: number };
  playing: { name: string; size: number };
  notation: { name: string; size: number };
  extras: { name: string; size: number };
  lock: { [key: string]: string };
};

/** What the build writes into the page: the kits that a listener can choose from, the usual one first. */
declare const GROUNDBEAT_KITS: { name: string; label: string; about: string; address: string }[];
