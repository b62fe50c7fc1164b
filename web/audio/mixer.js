/**
 * What does the audio thread put out, frame by frame?
 *
 * The mixer holds the samples and a fixed pool of voices. A voice starts on its exact frame, keeps its pan and level, follows
 * the gains of its group and its surface, and ends by itself, by a choke, by stealing or by a stop, always with a
 * fade. Nothing is allocated while mixing. Frames are frames of the audio context; gains 0..1, linear.
 */
import { GROUPS } from "./line.js";

/** Strokes that may ring at once, and spare voices for those that fade. Our choice: a full bar of ringing cymbals. */
const SOUNDING = 64;
const POOL = 96;
/** Slots behind those of the surfaces: the words of a count, which are sounds of the click's surface. */
const WORDS = 64;

/** Seconds. A choke takes about as long as a hand on a cymbal; a stop must be over within 20 ms. Our choices. */
const CHOKE = 0.02;
const STOP = 0.015;
const STEAL = 0.005;
/** Seconds in which a gain goes from 0 to 1. */
const SLEW = 0.012;

/** @type {Float32Array} */
const NONE = new Float32Array(0);

class Voice {
  pcm = NONE;
  position = 0;
  active = false;
  start = 0;
  surface = 0;
  group = 0;
  gain = 1;
  left = 0;
  right = 0;
  /** Frame on which a fade begins, and its length in frames; 0 for none. */
  fadeFrom = 0;
  fadeLength = 0;
  /** Loudest output in the last block; stealing looks at it. */
  level = 0;
}

/**
 * @typedef {object} Surfaces  one entry a surface
 * @property {Float32Array} left  gain of the left channel, from the pan
 * @property {Float32Array} right
 * @property {Int32Array} choke  number of the choke group, -1 for none
 */

export class Mixer {
  /** @type {Float32Array[][]} samples by slot and alternate */
  #bank = [];
  #turn = new Int32Array(0);
  #voices = Array.from({ length: POOL }, () => new Voice());
  /** @type {Surfaces} */
  #surfaces = { left: NONE, right: NONE, choke: new Int32Array(0) };
  #groupNow = new Float64Array(GROUPS);
  #groupWas = new Float64Array(GROUPS);
  #groupGoal = new Float64Array(GROUPS).fill(1);
  #surfaceNow = new Float64Array(0);
  #surfaceWas = new Float64Array(0);
  #surfaceGoal = new Float64Array(0);
  #left = new Float64Array(128);
  #right = new Float64Array(128);
  #rate;
  /** Strokes that had no sample. */
  missing = 0;

  /** @param {number} rate */
  constructor(rate) {
    this.#rate = rate;
  }

  /** @param {Surfaces} surfaces */
  setSurfaces(surfaces) {
    const count = surfaces.left.length;
    this.#surfaces = surfaces;
    this.#bank = Array.from({ length: count * 4 + WORDS }, () => []);
    this.#turn = new Int32Array(count * 4 + WORDS);
    this.#surfaceNow = new Float64Array(count).fill(1);
    this.#surfaceWas = new Float64Array(count).fill(1);
    this.#surfaceGoal = new Float64Array(count).fill(1);
  }

  /**
   * Put a surface elsewhere; what rings already stays where it is.
   *
   * @param {number} surface  -1 for the last, which is the click's
   * @param {number} pan  -1 left to 1 right
   */
  setPan(surface, pan) {
    const { left, right } = this.#surfaces;
    const at = surface < 0 ? left.length + surface : surface;
    left[at] = Math.cos(((pan + 1) * Math.PI) / 4);
    right[at] = Math.sin(((pan + 1) * Math.PI) / 4);
  }

  /** @param {ReadonlyArray<{slot: number, alternate: number, pcm: Float32Array}>} samples */
  addSamples(samples) {
    for (const { slot, alternate, pcm } of samples) this.#bank[slot][alternate] = pcm;
  }

  /**
   * Set the gains to go to; they get there within a few milliseconds.
   *
   * @param {ArrayLike<number>} groups
   * @param {ArrayLike<number>} surfaces
   */
  setGains(groups, surfaces) {
    this.#groupGoal.set(groups);
    this.#surfaceGoal.set(surfaces);
  }

  /** Begin again with the first alternate of every sample. */
  rewind() {
    this.#turn.fill(0);
  }

  /** Say how many voices sound and do not fade. */
  get sounding() {
    let count = 0;
    for (let k = 0; k < POOL; k++) if (this.#voices[k].active && this.#voices[k].fadeLength === 0) count++;
    return count;
  }

  /**
   * Start a stroke and choke what it chokes. Alternates of a slot take turns. A stroke nobody hears chokes nothing.
   *
   * @param {number} slot
   * @param {number} surface
   * @param {number} group
   * @param {number} frame
   * @param {number} [gain]  of this stroke alone
   */
  strike(slot, surface, group, frame, gain = 1) {
    const alternates = this.#bank[slot];
    if (alternates === undefined || alternates.length === 0) {
      this.missing++;
      return;
    }
    const turn = this.#turn[slot];
    this.#turn[slot] = turn + 1 === alternates.length ? 0 : turn + 1;
    if (this.#surfaces.choke[surface] >= 0) this.choke(surface, group, frame);
    const heard = this.#groupGoal[group] * this.#surfaceGoal[surface] * gain !== 0;
    const voice = this.#free(frame, heard);
    voice.pcm = alternates[turn];
    voice.position = 0;
    voice.active = true;
    voice.start = frame;
    voice.surface = surface;
    voice.group = group;
    voice.gain = gain;
    voice.left = this.#surfaces.left[surface];
    voice.right = this.#surfaces.right[surface];
    voice.fadeLength = 0;
    voice.level = heard ? Infinity : 0;
  }

  /**
   * Silence the choke group of a surface, or the surface alone if it has none. Strokes of the same frame stay.
   *
   * @param {number} surface
   * @param {number} group
   * @param {number} frame
   */
  choke(surface, group, frame) {
    if (this.#groupGoal[group] * this.#surfaceGoal[surface] === 0) return;
    const { choke } = this.#surfaces;
    for (let k = 0; k < POOL; k++) {
      const voice = this.#voices[k];
      if (!voice.active || voice.start >= frame) continue;
      if (voice.surface === surface || (choke[surface] >= 0 && choke[voice.surface] === choke[surface])) {
        this.#fade(voice, frame, CHOKE);
      }
    }
  }

  /**
   * Fade everything out.
   *
   * @param {number} frame
   */
  hush(frame) {
    for (let k = 0; k < POOL; k++) if (this.#voices[k].active) this.#fade(this.#voices[k], frame, STOP);
  }

  /**
   * Mix the block that starts at `frame` into two channels.
   *
   * @param {Float32Array} left
   * @param {Float32Array} right
   * @param {number} frame
   */
  mix(left, right, frame) {
    const count = left.length;
    if (this.#left.length < count) {
      this.#left = new Float64Array(count);
      this.#right = new Float64Array(count);
    }
    this.#left.fill(0);
    this.#right.fill(0);
    this.#slew(count);
    for (let k = 0; k < POOL; k++) if (this.#voices[k].active) this.#add(this.#voices[k], frame, count);
    for (let i = 0; i < count; i++) {
      left[i] = this.#left[i];
      right[i] = this.#right[i];
    }
  }

  /**
   * Move the gains towards their goals. With nothing sounding they arrive at once.
   *
   * @param {number} count
   */
  #slew(count) {
    let quiet = true;
    for (let k = 0; k < POOL && quiet; k++) quiet = !this.#voices[k].active || this.#voices[k].position === 0;
    const step = quiet ? Infinity : count / (SLEW * this.#rate);
    slew(this.#groupWas, this.#groupNow, this.#groupGoal, step, quiet);
    slew(this.#surfaceWas, this.#surfaceNow, this.#surfaceGoal, step, quiet);
  }

  /**
   * @param {Voice} voice
   * @param {number} frame
   * @param {number} count
   */
  #add(voice, frame, count) {
    const { pcm, group, surface, gain } = voice;
    const first = voice.position === 0 ? Math.max(0, voice.start - frame) : 0;
    if (first >= count) return;
    const was = this.#groupWas[group] * this.#surfaceWas[surface] * gain;
    const step = (this.#groupNow[group] * this.#surfaceNow[surface] * gain - was) / count;
    const panLeft = voice.left;
    const panRight = voice.right;
    const left = this.#left;
    const right = this.#right;
    const fade = voice.fadeLength > 0 ? voice.fadeFrom - frame : count;
    let until = Math.min(count, first + pcm.length - voice.position);
    if (voice.fadeLength > 0) until = Math.min(until, fade + voice.fadeLength);
    let position = voice.position;
    let level = 0;
    for (let i = first; i < until; i++) {
      let value = pcm[position++] * (was + step * i);
      if (i >= fade) value *= 1 - (i - fade) / voice.fadeLength;
      left[i] += value * panLeft;
      right[i] += value * panRight;
      const size = value < 0 ? -value : value;
      if (size > level) level = size;
    }
    voice.position = position;
    voice.level = level;
    if (position >= pcm.length || until < count) voice.active = false;
  }

  /**
   * @param {Voice} voice
   * @param {number} frame
   * @param {number} seconds
   */
  #fade(voice, frame, seconds) {
    const length = Math.max(1, Math.round(seconds * this.#rate));
    if (voice.fadeLength > 0 && voice.fadeFrom + voice.fadeLength <= frame + length) return;
    if (voice.fadeLength > 0 && voice.fadeFrom <= frame) return; // already fading; a second fade would step
    voice.fadeFrom = frame;
    voice.fadeLength = length;
  }

  /**
   * Find a voice for a new stroke; with too many sounding, the quietest, of those the oldest, fades. What nobody hears
   * does not count, takes nobody's place, and goes first where no voice is left. The desk does it alike:
   * groundbeat/sound/crowd.py.
   *
   * @param {number} frame
   * @param {boolean} heard  whether the new stroke is
   * @returns {Voice}
   */
  #free(frame, heard) {
    let free = null;
    let ending = this.#voices[0];
    let silent = null;
    let quietest = null;
    let sounding = 0;
    for (let k = 0; k < POOL; k++) {
      const voice = this.#voices[k];
      if (!voice.active) {
        free = voice;
      } else if (voice.fadeLength > 0) {
        const sooner = voice.fadeFrom + voice.fadeLength < ending.fadeFrom + ending.fadeLength;
        if (ending.fadeLength === 0 || sooner) ending = voice;
      } else if (voice.level === 0) {
        silent = voice;
      } else {
        sounding++;
        const level = quietest === null ? Infinity : quietest.level;
        const older = quietest === null || voice.start < quietest.start;
        if (voice.level < level || (voice.level === level && older)) quietest = voice;
      }
    }
    if (heard && sounding >= SOUNDING && quietest !== null) this.#fade(quietest, frame, STEAL);
    return free ?? silent ?? ending;
  }
}

/**
 * @param {Float64Array} was
 * @param {Float64Array} now
 * @param {Float64Array} goal
 * @param {number} step
 * @param {boolean} quiet
 */
function slew(was, now, goal, step, quiet) {
  for (let k = 0; k < now.length; k++) {
    was[k] = quiet ? goal[k] : now[k];
    const way = goal[k] - was[k];
    now[k] = Math.abs(way) <= step ? goal[k] : was[k] + Math.sign(way) * step;
  }
}
