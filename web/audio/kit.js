/**
 * Where do the samples come from?
 *
 * A kit is a kit.json and one sprite file a part, Vorbis or MP3. The Kit reads the manifest, fetches and decodes only
 * the parts asked for, and cuts them into samples for the audio thread. Surfaces are numbered in the manifest's
 * order; the click has a number of its own after them. A slot is surface * 4 + dynamic; behind those the words of a
 * count follow, in the manifest's order. Who wants a count asks for "pitched" or "spoken" as for a surface.
 */
import { DYNAMICS } from "./line.js";

/** @typedef {{part: string, start: number, frames: number}} Piece  frames at the manifest's rate */
/**
 * @typedef {object} Manifest
 * @property {string} kit
 * @property {number} rate
 * @property {Record<string, {ogg: string, mp3: string}>} parts
 * @property {(Piece & {surface: string, dynamic: string, alternate: number})[]} voices
 * @property {Record<string, {pan: number, chokes: string}>} surfaces
 * @property {{strong: Piece, weak: Piece}} clicks
 * @property {Count} [count]
 */
/**
 * @typedef {object} Count  the words of a count, the same for all kits; parts are named as `how` is
 * @property {Record<string, {ogg: string, mp3: string}>} parts
 * @property {(Piece & {how: string, say: string, lead: number})[]} voices  lead: frames before the place it belongs to
 */
/** @typedef {{slot: number, alternate: number, pcm: Float32Array}} Sample */

/** A fault with a code for the page and words for a person. */
export class SoundProblem extends Error {
  /**
   * @param {string} code
   * @param {string} message
   */
  constructor(code, message) {
    super(message);
    this.code = code;
  }
}

export class Kit {
  #manifest;
  #base;
  #names;
  /** @type {Map<string, Promise<ArrayBuffer>>} fetched and not yet decoded */
  #bytes = new Map();
  #form;

  /**
   * @param {Manifest} manifest
   * @param {string} base  address of kit.json
   */
  constructor(manifest, base) {
    this.#manifest = manifest;
    this.#base = base;
    this.#names = Object.keys(manifest.surfaces);
    const vorbis = globalThis.document?.createElement("audio").canPlayType('audio/ogg; codecs="vorbis"');
    this.#form = /** @type {"ogg"|"mp3"} */ (vorbis ? "ogg" : "mp3");
  }

  /**
   * Fetch and check a manifest.
   *
   * @param {string} address
   * @returns {Promise<Kit>}
   * @throws {SoundProblem} kit.missing or kit.broken
   */
  static async open(address) {
    const response = await get(address);
    let manifest;
    try {
      manifest = await response.json();
    } catch {
      manifest = null;
    }
    for (const field of ["rate", "parts", "voices", "surfaces", "clicks"]) {
      if (manifest?.[field] === undefined) {
        throw new SoundProblem(
          "kit.broken",
          `The list of sounds cannot be read: ${address} has no "${field}". Reload the page, or build it again.`,
        );
      }
    }
    return new Kit(manifest, new URL(address, document.baseURI).href);
  }

  /** Number of the click's own surface. */
  get clickSurface() {
    return this.#names.length;
  }

  /** All parts. */
  get parts() {
    return Object.keys(this.#manifest.parts);
  }

  /** Names of the surfaces, in the order of their numbers. */
  get surfaceNames() {
    return this.#names;
  }

  /** @param {string} name */
  surfaceNumber(name) {
    return this.#names.indexOf(name);
  }

  /**
   * Say which parts a set of surfaces needs, the click's among them.
   *
   * @param {ReadonlySet<string>} surfaces
   * @returns {Set<string>}
   */
  partsFor(surfaces) {
    const { voices, clicks } = this.#manifest;
    const parts = voices.filter((voice) => surfaces.has(voice.surface)).map((voice) => voice.part);
    const counts = Object.keys(this.#manifest.count?.parts ?? {}).filter((how) => surfaces.has(how));
    return new Set([...parts, clicks.strong.part, clicks.weak.part, ...counts]);
  }

  /**
   * Say which slot a word of a count has, and by how many microseconds it begins earlier; null: it is a click.
   *
   * @param {string} how  "pitched" or "spoken", else a click
   * @param {string} word
   */
  said(how, word) {
    const { count, rate } = this.#manifest;
    const at = count?.voices.findIndex((voice) => voice.how === how && voice.say === word) ?? -1;
    if (!count || at < 0) return null;
    return { slot: this.#word(at), us: -Math.round((count.voices[at].lead * 1e6) / rate) };
  }

  /** @param {number} at  in the list of words */
  #word(at) {
    return this.clickSurface * 4 + 4 + at;
  }

  /**
   * Give pans and choke groups by number. Pans keep the power: left cos, right sin of (pan + 1) * pi/4.
   *
   * @returns {import("./mixer.js").Surfaces}
   */
  surfaces() {
    const all = [...this.#names.map((name) => this.#manifest.surfaces[name]), { pan: 0, chokes: "" }];
    const groups = [...new Set(all.map((surface) => surface.chokes))].filter((group) => group !== "");
    return {
      left: Float32Array.from(all, (surface) => Math.cos(((surface.pan + 1) * Math.PI) / 4)),
      right: Float32Array.from(all, (surface) => Math.sin(((surface.pan + 1) * Math.PI) / 4)),
      choke: Int32Array.from(all, (surface) => groups.indexOf(surface.chokes)),
    };
  }

  /**
   * Fetch a part without decoding it, so that it is there when the first play comes.
   *
   * @param {string} part
   * @returns {Promise<ArrayBuffer>}
   */
  fetch(part) {
    const known = this.#bytes.get(part);
    if (known !== undefined) return known;
    const files = this.#manifest.parts[part] ?? this.#manifest.count?.parts[part];
    const address = new URL(files[this.#form], this.#base).href;
    const bytes = get(address).then((response) => response.arrayBuffer());
    this.#bytes.set(part, bytes);
    bytes.catch(() => this.#bytes.delete(part));
    return bytes;
  }

  /**
   * Fetch, decode and cut a part.
   *
   * @param {string} part
   * @param {BaseAudioContext} context  its rate is the rate of the samples
   * @returns {Promise<Sample[]>}
   * @throws {SoundProblem} kit.missing or kit.broken
   */
  async samples(part, context) {
    const buffer = await this.#decode(part, context);
    const whole = buffer.getChannelData(0);
    const scale = context.sampleRate / this.#manifest.rate;
    /** @param {Piece} piece */
    const cut = (piece) => {
      const start = Math.round(piece.start * scale);
      const pcm = whole.slice(start, start + Math.round(piece.frames * scale));
      if (pcm.length === 0) throw broken(part);
      return pcm;
    };
    const { voices, clicks } = this.#manifest;
    const samples = voices
      .filter((voice) => voice.part === part)
      .map((voice) => ({
        slot: this.surfaceNumber(voice.surface) * 4 + DYNAMICS.indexOf(/** @type {any} */ (voice.dynamic)),
        alternate: voice.alternate,
        pcm: cut(voice),
      }));
    for (const [dynamic, piece] of /** @type {[number, Piece][]} */ ([[0, clicks.weak], [3, clicks.strong]])) {
      if (piece.part === part) samples.push({ slot: this.clickSurface * 4 + dynamic, alternate: 0, pcm: cut(piece) });
    }
    this.#manifest.count?.voices.forEach((piece, at) => {
      if (piece.part === part) samples.push({ slot: this.#word(at), alternate: 0, pcm: cut(piece) });
    });
    return samples;
  }

  /**
   * Decode in the form this browser says it knows; if it does not after all, in the other one from then on.
   *
   * @param {string} part
   * @param {BaseAudioContext} context
   */
  async #decode(part, context) {
    const form = this.#form;
    const bytes = await this.fetch(part);
    this.#bytes.delete(part);
    try {
      return await context.decodeAudioData(bytes);
    } catch {
      if (form === "mp3") throw broken(part);
    }
    this.#form = "mp3";
    try {
      const other = await this.fetch(part);
      this.#bytes.delete(part);
      return await context.decodeAudioData(other);
    } catch (error) {
      throw error instanceof SoundProblem ? error : broken(part);
    }
  }
}

/** @param {string} part */
function broken(part) {
  return new SoundProblem(
    "kit.broken",
    `The sounds of "${part}" cannot be read by this browser. Reload the page, or try another browser.`,
  );
}

/**
 * @param {string} address
 * @returns {Promise<Response>}
 */
async function get(address) {
  let found = "no answer";
  try {
    const response = await fetch(address);
    if (response.ok) return response;
    found = `answer ${response.status}`;
  } catch {
    // No connection: said below.
  }
  throw new SoundProblem(
    "kit.missing",
    `The sounds could not be fetched (${address}: ${found}). Check the connection and press play again.`,
  );
}
