/**
 * The page's way to the engine: ask a question, get an answer, whatever happens to the worker.
 *
 *     const engine = new EngineClient({ worker: "app/worker.<hash>.js", runtime: "py/<hash>/" });
 *     engine.addEventListener("state", (event) => show(event.detail));
 *     const view = await engine.ask({ ask: "open", text }, { supersedes: "view" });
 *
 * Every question settles, in one of four ways: it is answered; it is refused (EngineRefusal: the engine read it and
 * says why not); it is lost with the worker (EngineLost); or it is overtaken by a newer one of the same lane
 * (EngineOvertaken). Questions go to the worker one at a time and in order, so an overtaken one that still waits is
 * never computed at all. A request carries its whole document, so a new worker knows all that the old one knew.
 *
 * A worker that dies, or that passes a deadline, is replaced once; a second death without an answer between the two
 * is told as "failed". Event "state": its detail is an EngineState. Times are in milliseconds.
 */

/**
 * @typedef {"idle" | "starting" | "ready" | "restarting" | "failed" | "closed"} EngineStateName
 * @typedef {"runtime" | "library" | "engine" | "ready"} EngineStage what is being loaded
 * @typedef {{ state: EngineStateName, stage: EngineStage, done: number, code: string, message: string }} EngineState
 *   stage and done (0 to 1) tell the progress of a start; code and message (what happened and what to do) a failure.
 * @typedef {{ deadline?: number, supersedes?: string }} AskOptions
 *   deadline: milliseconds from the moment the worker begins; supersedes: the lane in which only the newest counts.
 * @typedef {{ postMessage(message: unknown): void, terminate(): void, onmessage: ((event: MessageEvent) => void) | null,
 *   onerror: ((event: ErrorEvent) => void) | null, onmessageerror: ((event: MessageEvent) => void) | null }} WorkerLike
 * @typedef {{ worker: string | URL, runtime: string | URL, makeWorker?: (url: URL) => WorkerLike, stall?: number,
 *   deadline?: number }} EngineOptions
 *   Addresses relative to the document are fine. makeWorker, stall (patience without progress while starting) and
 *   deadline (for a question that names none) are for tests and special hosts.
 * @typedef {{ n: number, text: string, lane: string, deadline: number, settled: boolean,
 *   resolve: (reply: any) => void, reject: (reason: Error) => void }} Question
 */

import { EngineLost, EngineOvertaken, EngineRefusal, FINAL, sayingOf } from "./faults.js";

export { EngineLost, EngineOvertaken, EngineRefusal };

/** How long a start may stand still: a blocked loader never says so itself. Our choice. */
const STALL = 30_000;
/** How long a question may take. Our choice: so long that only an engine that is stuck passes it. */
const DEADLINE = 20_000;

/** Ask the engine, and hear how it is. */
export class EngineClient extends EventTarget {
  #workerUrl;
  #runtimeUrl;
  #makeWorker;
  #stall;
  #deadline;
  /** @type {WorkerLike | null} */
  #worker = null;
  /** @type {EngineState} */
  #state = { state: "idle", stage: "runtime", done: 0, code: "", message: "" };
  /** @type {Question[]} */
  #waiting = [];
  /** @type {Question | null} the question that the worker is at */
  #flying = null;
  #asked = 0;
  #deaths = 0;
  #heard = false;
  /** @type {ReturnType<typeof setTimeout> | undefined} the watchdog of a start, or the deadline of #flying */
  #timer;

  /** @param {EngineOptions} options */
  constructor(options) {
    super();
    const base = globalThis.document?.baseURI;
    this.#workerUrl = new URL(options.worker, base);
    this.#runtimeUrl = new URL(options.runtime, base);
    this.#makeWorker = options.makeWorker ?? moduleWorker;
    this.#stall = options.stall ?? STALL;
    this.#deadline = options.deadline ?? DEADLINE;
  }

  /** How the engine is. @returns {EngineState} */
  get state() {
    return this.#state;
  }

  /** Start the worker, or try again after a failure. Asking starts it too. */
  start() {
    if (this.#state.state !== "idle" && this.#state.state !== "failed") return;
    this.#deaths = 0;
    this.#boot("starting");
  }

  /**
   * Ask one question. The promise rejects with EngineRefusal, EngineLost or EngineOvertaken, never otherwise.
   * @param {{ ask: string, [field: string]: unknown }} request
   * @param {AskOptions} [options]
   * @returns {Promise<any>} the reply, an object with `answer`
   */
  ask(request, options = {}) {
    const lane = options.supersedes ?? "";
    if (lane) this.#overtake(lane);
    return new Promise((resolve, reject) => {
      if (this.#state.state === "failed" || this.#state.state === "closed") {
        reject(new EngineLost(this.#state.code, this.#state.message));
        return;
      }
      const deadline = options.deadline ?? this.#deadline;
      const n = (this.#asked += 1);
      this.#waiting.push({ n, text: JSON.stringify(request), lane, deadline, settled: false, resolve, reject });
      if (this.#state.state === "idle") this.start();
      this.#next();
    });
  }

  /** End the worker for good. Whatever was asked is lost. */
  close() {
    this.#drop();
    this.#loseAll("engine.closed", sayingOf("engine.closed"));
    this.#tell({ state: "closed", code: "engine.closed", message: sayingOf("engine.closed") });
  }

  /** @param {"starting" | "restarting"} state */
  #boot(state) {
    this.#heard = false;
    this.#tell({ state, stage: "runtime", done: 0, code: "", message: "" });
    if (this.#state.state !== state) return; // a listener closed us
    let worker;
    try {
      worker = this.#makeWorker(this.#workerUrl);
    } catch {
      this.#fail("engine.no-worker");
      return;
    }
    this.#worker = worker;
    worker.onmessage = (event) => this.#hear(worker, event.data);
    worker.onerror = (event) => {
      event.preventDefault?.();
      // A worker that has never spoken did not load; the browser tells no more than that.
      this.#die(worker, this.#heard ? "engine.crashed" : "engine.network");
    };
    worker.onmessageerror = () => this.#die(worker, "engine.crashed");
    this.#watch(worker, this.#stall, "engine.stalled");
    worker.postMessage({ start: { runtime: this.#runtimeUrl.href } });
  }

  /** @param {WorkerLike} worker @param {any} message */
  #hear(worker, message) {
    if (worker !== this.#worker) return; // a last word of one that was replaced
    this.#heard = true;
    if (message.failed) this.#die(worker, message.failed.code, message.failed.message);
    else if (message.progress) this.#advance(worker, message.progress);
    else this.#settle(message);
  }

  /** @param {WorkerLike} worker @param {{ stage: EngineStage, done: number }} progress */
  #advance(worker, progress) {
    if (progress.stage === "ready") {
      clearTimeout(this.#timer);
      this.#tell({ state: "ready", stage: "ready", done: 1 });
      this.#next();
    } else {
      this.#watch(worker, this.#stall, "engine.stalled");
      this.#tell({ stage: progress.stage, done: progress.done });
    }
  }

  /** @param {{ n: number, text: string }} message */
  #settle(message) {
    const question = this.#flying;
    if (!question || question.n !== message.n) return;
    clearTimeout(this.#timer);
    this.#flying = null;
    this.#deaths = 0;
    if (!question.settled) {
      question.settled = true;
      try {
        const reply = JSON.parse(message.text);
        if (reply.refused) question.reject(new EngineRefusal(reply.refused));
        else question.resolve(reply);
      } catch {
        question.reject(new EngineLost("engine.broken", sayingOf("engine.broken")));
      }
    }
    this.#next();
  }

  #next() {
    if (this.#state.state !== "ready" || this.#flying || !this.#worker) return;
    const question = this.#waiting.shift();
    if (!question) return;
    this.#flying = question;
    this.#watch(this.#worker, question.deadline, "engine.too-slow");
    this.#worker.postMessage({ n: question.n, text: question.text });
  }

  /** @param {string} lane */
  #overtake(lane) {
    const older = this.#waiting.filter((question) => question.lane === lane);
    this.#waiting = this.#waiting.filter((question) => question.lane !== lane);
    // The one that the worker is at can't be called back; its answer will find nobody.
    if (this.#flying?.lane === lane && !this.#flying.settled) older.push(this.#flying);
    for (const question of older) lose(question, new EngineOvertaken());
  }

  /** @param {WorkerLike} worker @param {number} patience @param {string} code */
  #watch(worker, patience, code) {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.#die(worker, code), patience);
  }

  /** @param {WorkerLike} worker @param {string} code @param {string} [message] */
  #die(worker, code, message = sayingOf(code)) {
    if (worker !== this.#worker) return;
    const question = this.#flying;
    this.#flying = null;
    this.#drop();
    this.#deaths += 1;
    if (question) lose(question, new EngineLost(code, message));
    if (FINAL.has(code)) this.#fail(code, message);
    else if (this.#deaths < 2) this.#boot("restarting");
    // What never started is told by its own name: it says more than "died twice".
    else if (code === "engine.network" || code === "engine.stalled") this.#fail(code, message);
    else this.#fail("engine.died-twice");
  }

  /** @param {string} code @param {string} [message] */
  #fail(code, message = sayingOf(code)) {
    this.#loseAll(code, message);
    this.#tell({ state: "failed", code, message });
  }

  /** @param {string} code @param {string} message */
  #loseAll(code, message) {
    const lost = this.#waiting;
    this.#waiting = [];
    if (this.#flying) lost.unshift(this.#flying);
    this.#flying = null;
    for (const question of lost) lose(question, new EngineLost(code, message));
  }

  #drop() {
    clearTimeout(this.#timer);
    const worker = this.#worker;
    this.#worker = null;
    if (!worker) return;
    worker.onmessage = worker.onerror = worker.onmessageerror = null;
    worker.terminate();
  }

  /** @param {Partial<EngineState>} change */
  #tell(change) {
    this.#state = { ...this.#state, ...change };
    this.dispatchEvent(new CustomEvent("state", { detail: this.#state }));
  }
}

/** @param {URL} url @returns {WorkerLike} */
function moduleWorker(url) {
  return new Worker(url, { type: "module", name: "groundbeat engine" });
}

/** @param {Question} question @param {Error} reason */
function lose(question, reason) {
  if (question.settled) return;
  question.settled = true;
  question.reject(reason);
}
