/**
 * How does what the page plays become a WAV file?
 *
 * The sequencer and the mixer of the audio thread run here, without a device and as fast as they can, so every stroke
 * stands on the frame that is heard. The rate is the kit's, 44.1 kHz; two channels of 24 bit whole numbers, so that no
 * noise has to be added for the quiet end of a ghost note, and every player reads it. Frame 0 is the start of the first
 * pass, or of the earliest grace before it; silence at the end goes, but not before the last pass is over.
 *
 * A file keeps 1 dB of room up to full scale, also between its samples (ITU-R BS.1770-5, annex 2: four times as many,
 * here by a sinc of 24 samples under a Hann window). What would be higher is made quieter as a whole, in steps of 0.1 dB.
 * All this is as on the command line (groundbeat.sound): the same settings and samples give the same file.
 */
import { Balance } from "./balance.js";
import { framesOf, loopFrames } from "./frames.js";
import { Kit } from "./kit.js";
import { lineOf } from "./line.js";
import { Mixer } from "./mixer.js";
import { Sequencer } from "./sequencer.js";

/** @typedef {import("./line.js").Timeline} Timeline */
/** @typedef {{timeline: Timeline, passes: number}} Part */
/**
 * @typedef {object} Heard  as the settings of the Player
 * @property {number} mix
 * @property {boolean} onlyAdded
 * @property {number} click
 * @property {number} [count]
 * @property {number} [clickPan]
 * @property {Iterable<string>} [muted]
 * @property {Iterable<string>} [soloed]
 */

export const RATE = 44100;
const BLOCK = 128;
const BYTES = 3;
const FULL = 2 ** 23;
/** Seconds of sound made between two looks at whether something else is to be done. Our choice. */
const TURN = 1;
/** Seconds that the mixer goes on when nothing sounds but what fades: longer than any fade. */
const FADES = 0.05;
const MOST = 10 ** (-1 / 20);
const TIMES = 4;
const HALF = 12;

/**
 * Make a WAV file of timelines played one after the other.
 *
 * @param {string} address  of kit.json
 * @param {ReadonlyArray<Part>} parts
 * @param {number} bpm
 * @param {Heard} heard
 * @returns {Promise<{wav: Blob, seconds: number, quieter: number}>} quieter: by how many decibels, 0 for as it sounds
 * @throws {import("./kit.js").SoundProblem} kit.missing or kit.broken
 * @throws {RangeError} as framesOf
 */
export async function writeSound(address, parts, bpm, heard) {
  const kit = await Kit.open(address);
  const context = new OfflineAudioContext(1, 1, RATE);
  const surfaces = new Set(parts.flatMap(({ timeline }) => timeline.events.map((event) => event.surface)));
  const samples = await Promise.all([...kit.partsFor(surfaces)].map((part) => kit.samples(part, context)));
  const mixer = new Mixer(RATE);
  mixer.setSurfaces(kit.surfaces());
  mixer.addSamples(samples.flat());
  mixer.setPan(-1, heard.clickPan ?? 0);
  const gains = gainsOf(heard, kit.surfaceNames);
  mixer.setGains(gains.groups, gains.surfaces);
  const entries = parts.map(({ timeline, passes }, tag) => ({
    line: lineOf(tag, timeline, bpm, RATE, (surface) => kit.surfaceNumber(surface), kit.clickSurface),
    passes,
    tag,
  }));
  const { blocks, end } = await run(entries, mixer);
  const over = overBy(await truePeak(blocks));
  const gain = over > 0 ? 10 ** (-over / 20) : 1;
  const length = lengthOf(blocks, gain, end);
  return { wav: await pack(blocks, gain, length), seconds: length / RATE, quieter: over };
}

/**
 * Say how long so many passes last, in seconds, without what rings at the end.
 *
 * @param {Timeline} timeline
 * @param {number} bpm
 */
export function passSeconds(timeline, bpm) {
  return loopFrames(framesOf(timeline, [], bpm, RATE)) / RATE;
}

/**
 * @param {Heard} heard
 * @param {ReadonlyArray<string>} names
 */
function gainsOf({ mix, onlyAdded, click, count = 1, muted = [], soloed = [] }, names) {
  const balance = new Balance();
  Object.assign(balance, { mix, onlyAdded, click, count });
  for (const surface of muted) balance.mute(surface, true);
  for (const surface of soloed) balance.solo(surface, true);
  return balance.gains(names);
}

/**
 * Play to the end into a list of blocks: left and right in turn.
 *
 * @param {import("./sequencer.js").Entry[]} entries
 * @param {Mixer} mixer
 * @returns {Promise<{blocks: Float32Array[], end: number}>} end: the frame on which the last pass is over
 */
async function run(entries, mixer) {
  const sequencer = new Sequencer();
  for (const { line } of entries) sequencer.reserve(line.source.length);
  const { start, before } = spanOf(entries);
  sequencer.begin({ entries, then: "stop" }, start);
  const end = Math.floor(start + before + 0.5);
  /** @type {Float32Array[]} */
  const blocks = [];
  let rest = Math.ceil((FADES * RATE) / BLOCK);
  for (let frame = 0; sequencer.playing || mixer.sounding > 0 || frame < end || rest-- > 0; frame += BLOCK) {
    if (sequencer.playing) sequencer.run(frame, BLOCK, mixer);
    const left = new Float32Array(BLOCK);
    const right = new Float32Array(BLOCK);
    mixer.mix(left, right, frame);
    blocks.push(left, right);
    if (blocks.length % (2 * Math.round((TURN * RATE) / BLOCK)) === 0) await pause();
  }
  return { blocks, end };
}

/**
 * Say how long the passes last in frames, and by how many the earliest stroke comes before the first of them.
 *
 * @param {import("./sequencer.js").Entry[]} entries
 */
function spanOf(entries) {
  let start = 0;
  let before = 0;
  let round = 0;
  let rounds = 1;
  for (const { line, passes } of entries) {
    if (line.rounds !== rounds) round = 0; // as the sequencer counts them
    rounds = line.rounds;
    const first = before;
    for (let pass = 0; pass < passes; pass++, round++) {
      const from = first + pass * loopFrames(line);
      for (let k = 0; from < line.early + 1 && k < line.whole.length; k++) {
        if (line.round[k] >= 0 && line.round[k] !== round % rounds) continue;
        start = Math.max(start, -(Math.floor(from + line.whole[k] + line.rem[k] / line.den + 0.5) + line.offset[k]));
      }
    }
    before += passes * loopFrames(line);
  }
  return { start, before };
}

/** Let the page do something else. */
function pause() {
  return new Promise((resolve) => setTimeout(resolve));
}

/**
 * Find the highest level of the sound, and between its samples where that may be too high.
 *
 * @param {ReadonlyArray<Float32Array>} blocks
 */
async function truePeak(blocks) {
  const rows = Array.from({ length: TIMES - 1 }, (_, k) => filter((k + 1) / TIMES));
  const width = 2 * HALF - 1;
  const window = new Float64Array(BLOCK + width);
  /** No point between samples is higher than its neighbours times this: where that is below MOST, nobody need look. */
  const gain = Math.max(...rows.map((row) => row.reduce((sum, weight) => sum + Math.abs(weight), 0)));
  let highest = 0;
  for (const side of [0, 1]) {
    window.fill(0);
    for (let at = side; at < blocks.length + 2; at += 2) {
      window.copyWithin(0, BLOCK);
      if (at < blocks.length) window.set(blocks[at], width);
      else window.fill(0, width);
      let near = 0;
      for (let i = 0; i < window.length; i++) near = Math.max(near, Math.abs(window[i]));
      highest = Math.max(highest, near);
      for (const row of near * gain > MOST ? rows : []) {
        for (let i = 0; i < BLOCK; i++) {
          let value = 0;
          for (let k = 0; k <= width; k++) value += window[i + k] * row[k];
          if (value > highest) highest = value;
          else if (-value > highest) highest = -value;
        }
      }
      if (at % (8 * Math.round((TURN * RATE) / BLOCK)) < 2) await pause();
    }
  }
  return highest;
}

/**
 * The weights of the samples from HALF - 1 before to HALF behind, for a place between two of them.
 *
 * @param {number} part
 */
function filter(part) {
  return Float64Array.from({ length: 2 * HALF }, (_, k) => {
    const place = part - (k + 1 - HALF);
    return (Math.sin(Math.PI * place) / (Math.PI * place)) * Math.cos((Math.PI * place) / (2 * HALF)) ** 2;
  });
}

/**
 * Say by how many decibels a file must be made quieter, in steps of 0.1.
 *
 * @param {number} peak
 */
function overBy(peak) {
  const over = peak > 0 ? 200 * Math.log10(peak / MOST) : 0;
  return Math.max(0, Math.ceil(over - 1e-6)) / 10;
}

/**
 * @param {number} value
 * @param {number} gain
 */
function whole(value, gain) {
  const level = gain === 1 ? value : Math.fround(value * gain);
  return Math.min(FULL - 1, Math.max(-FULL, Math.floor(level * FULL + 0.5)));
}

/**
 * Find the end of the file in frames: silence at the end goes, but not below `least`.
 *
 * @param {ReadonlyArray<Float32Array>} blocks
 * @param {number} gain
 * @param {number} least
 */
function lengthOf(blocks, gain, least) {
  for (let at = blocks.length - 2; at >= 0; at -= 2) {
    for (let i = BLOCK - 1; i >= 0; i--) {
      if (whole(blocks[at][i], gain) !== 0 || whole(blocks[at + 1][i], gain) !== 0) {
        return Math.max(least, (at / 2) * BLOCK + i + 1);
      }
    }
  }
  return least;
}

/**
 * Write a WAV file with the header of whole numbers (format 1).
 *
 * @param {ReadonlyArray<Float32Array>} blocks
 * @param {number} gain
 * @param {number} length  frames
 * @returns {Promise<Blob>}
 */
async function pack(blocks, gain, length) {
  const frame = 2 * BYTES;
  const bytes = new Uint8Array(44 + length * frame);
  const header = new DataView(bytes.buffer);
  const word = (/** @type {number} */ at, /** @type {string} */ text) => bytes.set(new TextEncoder().encode(text), at);
  word(0, "RIFF");
  header.setUint32(4, bytes.length - 8, true);
  word(8, "WAVEfmt ");
  header.setUint32(16, 16, true);
  header.setUint16(20, 1, true);
  header.setUint16(22, 2, true);
  header.setUint32(24, RATE, true);
  header.setUint32(28, RATE * frame, true);
  header.setUint16(32, frame, true);
  header.setUint16(34, 8 * BYTES, true);
  word(36, "data");
  header.setUint32(40, length * frame, true);
  for (let i = 0, at = 44; i < length; i++) {
    const block = 2 * Math.floor(i / BLOCK);
    for (const side of [0, 1]) {
      const value = whole(blocks[block + side][i % BLOCK], gain);
      bytes[at++] = value & 255;
      bytes[at++] = (value >> 8) & 255;
      bytes[at++] = (value >> 16) & 255;
    }
    if (i % (TURN * RATE * 8) === 0) await pause();
  }
  return new Blob([bytes], { type: "audio/wav" });
}
