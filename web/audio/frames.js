/**
 * On which frame does each event of a timeline sound?
 *
 * A pass p of a loop starts at `start + p * loop`, and an event sounds on
 *     frame = floor(start + (p * loop + at) * rate * 60 / (bpm * unit * parts) + 1/2) + floor(us * rate / 1e6 + 1/2)
 * with `at` and `loop` in 1/parts of a tick, `unit` the ticks of one beat of the tempo, `us` microseconds.
 * The fraction is kept as whole frames and a remainder over a denominator. Adding a loop adds both parts exactly,
 * so nothing drifts, and every number stays a whole number below 2^53. BigInt is used only while preparing.
 * Rounding is half up, also below zero. A grace may lie off its stroke by at most its `room`, in 1/parts of a tick and
 * whole frames: where its `lead`, the part of `us` that is its own distance, is more, the rest of it is taken away.
 * An event with a negative `us` may sound before its pass starts; `early` says by how much at most, so that whoever plays
 * the pass can begin with it in time.
 */

/** Slowest and fastest tempo, in the tempo's own unit: the range of a good metronome and some room. Our choice. */
export const SLOWEST = 20;
export const FASTEST = 300;

/** Sums of a few remainders stay exact below this: 2^53 with room for the factor 4. */
const LARGEST = 2 ** 50;

/**
 * @typedef {object} Frames  times of one timeline at one tempo and rate; the arrays are in the order of sounding
 * @property {number} den  denominator of every remainder
 * @property {number} loopWhole  whole frames of the loop
 * @property {number} loopRem  and the rest, over den
 * @property {Float64Array} whole  whole frames from the start of the pass
 * @property {Float64Array} rem  and the rest, over den
 * @property {Float64Array} offset  fixed frames from `us`, may be negative
 * @property {Int32Array} source  index of the event in the list it was made from
 * @property {number} early  frames by which the earliest event can come before the start of its pass
 */

/** @typedef {{whole: number, num: number, den: number}} Origin  a place: whole + num/den frames, 0 <= num < den */

/** @typedef {{loop: number, parts: number, tempo_unit_ticks: number}} Span  what a timeline says of its time */

/**
 * Work out the frames of a list of events.
 *
 * @param {Span} span  loop in 1/parts tick; whole numbers
 * @param {ReadonlyArray<{at: number, us: number, lead?: number, room?: number}>} events  in any order
 * @param {number} bpm  20..300, two decimals
 * @param {number} rate  frames a second
 * @returns {Frames}
 * @throws {RangeError} on a number that is not whole or too large to be exact
 */
export function framesOf(span, events, bpm, rate) {
  const hundredths = Math.round(bpm * 100);
  if (!(hundredths >= SLOWEST * 100 && hundredths <= FASTEST * 100)) {
    throw new RangeError(`cannot play at tempo ${bpm}: it goes from ${SLOWEST} to ${FASTEST}`);
  }
  const { loop, parts, tempo_unit_ticks: unit } = span;
  for (const [name, value] of Object.entries({ loop, parts, tempo_unit_ticks: unit, rate })) {
    if (!Number.isSafeInteger(value) || value < 1) {
      throw new RangeError(`cannot play with ${name} ${value}: it must be a whole number from 1`);
    }
  }
  let num = BigInt(rate) * 6000n;
  let den = BigInt(hundredths) * BigInt(unit) * BigInt(parts);
  const shared = divisor(num, den);
  num /= shared;
  den /= shared;
  const times = events.map(({ at, us, lead = 0, room = 0 }, source) => {
    const exact = BigInt(at) * num;
    const own = fixed(lead, rate);
    const over = room > 0 ? Math.max(0, Math.abs(own) - Number((BigInt(room) * num) / den)) : 0;
    const offset = fixed(us, rate) - Math.sign(own) * over;
    return { whole: Number(exact / den), rem: Number(exact % den), offset, source };
  });
  times.sort((a, b) => a.whole + a.offset - b.whole - b.offset || a.rem - b.rem || a.source - b.source);
  const length = BigInt(loop) * num;
  const frames = {
    den: Number(den),
    loopWhole: Number(length / den),
    loopRem: Number(length % den),
    whole: Float64Array.from(times, (time) => time.whole),
    rem: Float64Array.from(times, (time) => time.rem),
    offset: Float64Array.from(times, (time) => time.offset),
    source: Int32Array.from(times, (time) => time.source),
    early: Math.max(0, ...times.slice(0, 1).map((time) => -(time.whole + time.offset))),
  };
  if (frames.den > LARGEST || frames.loopWhole > LARGEST || frames.loopWhole < 1) {
    throw new RangeError(`cannot play a loop of ${loop} in 1/${parts} tick: too long or too short to time exactly`);
  }
  return frames;
}

/**
 * Say the length of a loop in frames, as a float for drawing.
 *
 * @param {Frames} frames
 */
export function loopFrames(frames) {
  return frames.loopWhole + frames.loopRem / frames.den;
}

/**
 * Give an origin on a whole frame.
 *
 * @param {number} frame
 * @returns {Origin}
 */
export function originAt(frame) {
  return { whole: frame, num: 0, den: 1 };
}

/**
 * Make `target` the same place as `from`.
 *
 * @param {Origin} target
 * @param {Origin} from
 */
export function copyOrigin(target, from) {
  target.whole = from.whole;
  target.num = from.num;
  target.den = from.den;
}

/**
 * Give the origin a denominator that the remainders of `frames` fit into. The place stays exactly where it is,
 * unless the common denominator would be too large to be exact: then it moves to the nearest 1/den of a frame.
 *
 * @param {Origin} origin  changed in place
 * @param {Frames} frames
 */
export function align(origin, frames) {
  const { den } = frames;
  if (origin.den % den === 0) return;
  if (origin.num === 0) {
    origin.den = den;
    return;
  }
  let a = origin.den;
  let b = den;
  while (b > 0) {
    const rest = a % b;
    a = b;
    b = rest;
  }
  const factor = den / a;
  if (origin.den * factor <= LARGEST) {
    origin.num *= factor;
    origin.den *= factor;
    return;
  }
  origin.num = Math.round((origin.num / origin.den) * den);
  origin.den = den;
  if (origin.num === den) {
    origin.num = 0;
    origin.whole += 1;
  }
}

/**
 * Move an aligned origin on by one loop, or back by one.
 *
 * @param {Origin} origin  changed in place
 * @param {Frames} frames
 * @param {1|-1} way
 */
export function advance(origin, frames, way = 1) {
  origin.whole += way * frames.loopWhole;
  origin.num += way * frames.loopRem * (origin.den / frames.den);
  if (origin.num >= origin.den) {
    origin.num -= origin.den;
    origin.whole += 1;
  } else if (origin.num < 0) {
    origin.num += origin.den;
    origin.whole -= 1;
  }
}

/**
 * Say the frame of event `index` in the pass that starts at an aligned origin.
 *
 * @param {Origin} origin
 * @param {Frames} frames
 * @param {number} index  in the order of sounding
 */
export function frameAt(origin, frames, index) {
  const twice = 2 * (origin.num + frames.rem[index] * (origin.den / frames.den));
  const carry = twice >= 3 * origin.den ? 2 : twice >= origin.den ? 1 : 0;
  return origin.whole + frames.whole[index] + carry + frames.offset[index];
}

/**
 * @param {number} us
 * @param {number} rate
 */
function fixed(us, rate) {
  return Math.floor((2 * us * rate + 1e6) / 2e6);
}

/**
 * @param {bigint} a
 * @param {bigint} b
 */
function divisor(a, b) {
  while (b) [a, b] = [b, a % b];
  return a;
}
