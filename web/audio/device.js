/**
 * How does the page get at the sound device, and what if it does not?
 *
 * A Device is made inside a user's gesture: one AudioContext, the audio thread's program, and a volume after it.
 * Browsers may hold the context back (autoplay), interrupt it (a call on a phone) or leave it running with a frozen
 * clock; `wake` tells these apart. Events: `change` (of the context's state), `gesture` (the user touched the page).
 */
import { SoundProblem } from "./kit.js";

/** Milliseconds: how long a browser may take to let the sound go, and how long a clock may stand. Our choices. */
const PATIENCE = 2000;
const STANDING = 500;
/** Milliseconds between two readings of the device's latency: it changes, with wireless headphones a lot. */
const LATENCY_AGE = 1000;

export class Device extends EventTarget {
  #context;
  /** @type {AudioWorkletNode|null} */
  #node = null;
  #gain;
  #latency = 0;
  #latencyRead = -Infinity;
  #closed = new AbortController();

  /**
   * Open the device; call it inside a user's gesture.
   *
   * @throws {SoundProblem} sound.insecure or sound.none
   */
  constructor() {
    super();
    if (typeof AudioContext === "undefined") {
      throw new SoundProblem("sound.none", "This browser has no Web Audio, so there is no sound. A newer one has it.");
    }
    if (!globalThis.isSecureContext || typeof AudioWorkletNode === "undefined") {
      throw new SoundProblem(
        "sound.insecure",
        "There is no sound at this address: over plain http a browser lets a page play only from the same computer. " +
          "Open the page by https, or by http://localhost on the computer that serves it.",
      );
    }
    if (navigator.audioSession !== undefined) navigator.audioSession.type = "playback";
    this.#context = new AudioContext({ latencyHint: "interactive" });
    const { signal } = this.#closed;
    this.#context.addEventListener("statechange", () => this.dispatchEvent(new Event("change")), { signal });
    for (const gesture of ["pointerdown", "keydown", "visibilitychange"]) {
      document.addEventListener(gesture, () => this.dispatchEvent(new Event("gesture")), { signal, passive: true });
    }
    this.#gain = this.#context.createGain();
    this.#gain.connect(this.#context.destination);
  }

  get context() {
    return this.#context;
  }

  get running() {
    return this.#context.state === "running";
  }

  /**
   * Load the audio thread's program and connect it.
   *
   * @param {string} address
   * @param {import("./kit.js").Kit} kit
   * @returns {Promise<AudioWorkletNode>}
   * @throws {SoundProblem} sound.processor
   */
  async build(address, kit) {
    if (this.#node !== null) return this.#node;
    try {
      await this.#context.audioWorklet.addModule(address);
      this.#node = new AudioWorkletNode(this.#context, "groundbeat", {
        numberOfInputs: 0,
        outputChannelCount: [2],
        processorOptions: { commands: [{ kind: "surfaces", surfaces: kit.surfaces() }] },
      });
    } catch {
      throw new SoundProblem(
        "sound.processor",
        "The part of the page that plays could not be loaded. Check the connection and reload the page.",
      );
    }
    this.#node.connect(this.#gain);
    return this.#node;
  }

  /**
   * Let the sound go; call it inside a user's gesture.
   *
   * @returns {Promise<"running"|"blocked"|"frozen">}
   */
  async wake() {
    const context = this.#context;
    if (!this.running) await Promise.race([context.resume().catch(() => undefined), pause(PATIENCE)]);
    if (!this.running) return "blocked";
    const before = context.currentTime;
    for (let waited = 0; waited < STANDING; waited += 20) {
      if (context.currentTime > before) return "running";
      await pause(20);
    }
    return "frozen";
  }

  /** @param {number} volume  0..1; squared, so that half way sounds about half as loud */
  setVolume(volume) {
    this.#gain.gain.setTargetAtTime(volume * volume, this.#context.currentTime, 0.01);
  }

  /** Seconds from a frame being made to its being heard, as far as the browser knows. */
  get latency() {
    const now = performance.now();
    if (now - this.#latencyRead > LATENCY_AGE) {
      this.#latencyRead = now;
      this.#latency = this.#context.outputLatency || this.#context.baseLatency || 0;
    }
    return this.#latency;
  }

  close() {
    this.#closed.abort();
    this.#node?.port.postMessage({ kind: "close" });
    this.#node?.disconnect();
    this.#context.close().catch(() => undefined);
  }
}

/** @param {number} milliseconds */
function pause(milliseconds) {
  return new Promise((resolve) => setTimeout(resolve, milliseconds));
}
