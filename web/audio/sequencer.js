/**
 * Which stroke comes when, and what comes after this pass?
 *
 * A programme is a list of lines with a number of passes each. Every pass is a round of its own with an exact start,
 * so a grace may sound before its loop point and a late stroke after it, also when the line changes there.
 * Before the first pass a lead may sound once: a count-in. Clicks that differ from round to round go by a count of the
 * rounds since the beginning, which goes on over swaps, unless what comes has another number of rounds.
 * A new programme comes in at the loop point or at once at the same place; a tempo change keeps the place. A pass
 * that starts because of a tempo change, or by a change at once to another tempo, starts on a whole frame.
 * Frames are frames of the audio context. Nothing is allocated in run().
 */
import { advance, align, copyOrigin, frameAt, loopFrames, originAt } from "./frames.js";

/** Rounds that may overlap: two at a loop point, more only if a loop is shorter than its graces. Our choice. */
const ROUNDS = 8;

/** @typedef {import("./line.js").Line} Line */
/** @typedef {{line: Line, passes: number, tag: number}} Entry  passes 0: without end; tag: the page's own number */
/** @typedef {{entries: Entry[], then: "stop"|"stay"|"again", lead?: Entry|null}} Programme  lead: once, when it begins */
/**
 * @typedef {object} Striker
 * @property {(slot: number, surface: number, group: number, frame: number, gain: number) => void} strike
 * @property {(surface: number, group: number, frame: number) => void} choke
 */

class Round {
  /** @type {Line|null} */
  line = null;
  origin = originAt(0);
  pass = 0;
  tag = 0;
  /** Number of the round, for its clicks. */
  turn = 0;
  lead = false;
  cursor = 0;
  due = Infinity;
  /** Which events have sounded or passed, by their index in the timeline: orders differ between tempi. */
  fired = new Uint8Array(256);
}

export class Sequencer {
  #rounds = Array.from({ length: ROUNDS }, () => new Round());
  #count = 0;
  /** @type {Programme|null} */
  #programme = null;
  /** @type {Programme|null} */
  #waiting = null;
  #index = 0;
  #pass = 0;
  /** Number of the next round, and after how many the clicks begin again. */
  #round = 0;
  #clickRounds = 1;
  /** Where the next pass starts. */
  #edge = originAt(0);
  playing = false;
  /** Grows whenever the playhead's straight line changes: a new pass, another tempo, another programme. */
  turns = 0;

  /** The pass the playhead is in, and the frame from which this holds. */
  #current = this.#rounds[0];
  #since = 0;

  /**
   * Begin a programme with its first pass at `frame`; earlier graces must still be ahead.
   *
   * @param {Programme} programme
   * @param {number} frame
   */
  begin(programme, frame) {
    this.#clear();
    this.#take(programme);
    copyOrigin(this.#edge, originAt(frame));
    this.playing = true;
    this.#round = 0;
    this.#spawn(programme.lead ?? programme.entries[0], -Infinity);
    this.#turn(this.#rounds[0], frame);
    if (!programme.lead) return;
    this.#pass = 0;
    this.#round = 0;
  }

  end() {
    this.#clear();
    this.playing = false;
  }

  /**
   * Go over to another programme. During a lead it always comes after it.
   *
   * @param {Programme} programme
   * @param {"loop"|"now"} at
   * @param {number} frame  the block that comes
   */
  replace(programme, at, frame) {
    if (!this.playing) return;
    if (at === "loop" || this.#current.lead) {
      this.#unspawn(frame);
      this.#waiting = programme;
      return;
    }
    const line = programme.entries[0].line;
    const { line: old, origin, turn } = this.#locate(frame);
    this.#take(programme);
    this.#round = turn;
    if (old !== null && samePace(old, line)) {
      copyOrigin(this.#edge, origin);
      align(this.#edge, line);
      for (; frame - this.#edge.whole >= line.loopWhole + 1; this.#round++) advance(this.#edge, line);
    } else if (old !== null) {
      const ticks = ((frame - exact(origin)) / loopFrames(old)) * old.loopTicks;
      const place = ticks - Math.max(0, Math.floor(ticks / line.loopTicks)) * line.loopTicks;
      copyOrigin(this.#edge, originAt(Math.round(frame - (place / line.loopTicks) * loopFrames(line))));
    }
    this.#clear();
    this.#spawn(programme.entries[0], frame);
    this.#turn(this.#rounds[0], frame);
  }

  /**
   * Take the same timelines at another tempo, keeping the place.
   *
   * @param {ReadonlyArray<Line>} lines  one for every key in use
   * @param {number} frame  the block that comes
   */
  retime(lines, frame) {
    for (const programme of [this.#programme, this.#waiting]) {
      for (const entry of programme?.entries ?? []) {
        entry.line = lines.find((line) => line.key === entry.line.key) ?? entry.line;
      }
    }
    if (!this.playing) return;
    const now = this.#locate(frame);
    const old = now.line;
    const line = old === null ? undefined : lines.find((other) => other.key === old.key);
    if (old === null || line === undefined) return;
    const place = (frame - exact(now.origin)) / loopFrames(old);
    const origin = originAt(Math.round(frame - place * loopFrames(line)));
    const at = this.#rounds.indexOf(now);
    this.#move(now, line, origin);
    copyOrigin(this.#edge, origin);
    align(this.#edge, line);
    for (let k = at; ; k++) {
      advance(this.#edge, /** @type {Line} */ (this.#rounds[k].line));
      if (k + 1 >= this.#count) break;
      const round = this.#rounds[k + 1];
      const next = lines.find((other) => other.key === round.line?.key) ?? /** @type {Line} */ (round.line);
      this.#move(round, next, this.#edge);
      align(this.#edge, next);
    }
    for (let k = at - 1; k >= 0; k--) {
      const round = this.#rounds[k];
      const before = lines.find((other) => other.key === round.line?.key);
      if (before === undefined) continue;
      align(origin, before);
      advance(origin, before, -1);
      this.#move(round, before, origin);
    }
    this.#turn(now, frame);
  }

  /**
   * Give the striker every event of the block.
   *
   * @param {number} frame
   * @param {number} count
   * @param {Striker} striker
   */
  run(frame, count, striker) {
    const limit = frame + count;
    this.#spawnDue(frame, limit);
    for (;;) {
      let next = null;
      for (let k = 0; k < this.#count; k++) {
        if (this.#rounds[k].due < limit && (next === null || this.#rounds[k].due < next.due)) next = this.#rounds[k];
      }
      if (next === null || next.line === null) break;
      const { line, cursor } = next;
      const at = Math.max(next.due, frame);
      if (line.stop[cursor] === 1) striker.choke(line.surface[cursor], line.group[cursor], at);
      else striker.strike(line.slot[cursor], line.surface[cursor], line.group[cursor], at, line.level[cursor]);
      this.#consume(next);
    }
    this.#retire(frame);
    if (this.#next() === null && this.#edge.whole < limit && this.#current.due === Infinity) this.playing = false;
  }

  /**
   * Write where the playhead is: start of the pass in frames, its length in frames and ticks, pass, tag, and the
   * frame from which this holds.
   *
   * @param {Float64Array} note
   * @param {number} first  index of the first number to write
   */
  describe(note, first) {
    const { line, origin, pass, tag } = this.#current;
    note[first] = exact(origin);
    note[first + 1] = line === null ? 0 : loopFrames(line);
    note[first + 2] = line === null ? 0 : line.loopTicks;
    note[first + 3] = pass;
    note[first + 4] = tag;
    note[first + 5] = this.#since;
  }

  /**
   * Make room for the marks of the longest line; called when a programme arrives, never in run().
   *
   * @param {number} events
   */
  reserve(events) {
    for (const round of this.#rounds) {
      if (round.fired.length >= events) continue;
      const wider = new Uint8Array(events);
      wider.set(round.fired);
      round.fired = wider;
    }
  }

  /** @param {Programme} programme */
  #take(programme) {
    this.#programme = programme;
    this.#waiting = null;
    this.#index = 0;
    this.#pass = 0;
  }

  #clear() {
    for (let k = 0; k < this.#count; k++) this.#rounds[k].due = Infinity;
    this.#count = 0;
  }

  /** Say what the next pass plays, null for nothing. @returns {Entry|null} */
  #next() {
    if (this.#waiting !== null) return this.#waiting.entries[0];
    if (this.#programme === null) return null;
    const { entries, then } = this.#programme;
    const entry = entries[this.#index];
    if (entry.passes === 0 || this.#pass < entry.passes) return entry;
    if (this.#index + 1 < entries.length) return entries[this.#index + 1];
    return then === "again" ? entries[0] : then === "stay" ? entry : null;
  }

  /**
   * Start the passes that have an event before `limit`.
   *
   * @param {number} frame
   * @param {number} limit
   */
  #spawnDue(frame, limit) {
    for (let guard = 0; guard < ROUNDS && this.playing; guard++) {
      const entry = this.#next();
      if (entry === null || this.#edge.whole - entry.line.early >= limit) return;
      if (this.#waiting !== null) {
        this.#take(this.#waiting);
      } else if (this.#programme !== null) {
        const { entries } = this.#programme;
        const now = entries[this.#index];
        const over = now.passes > 0 && this.#pass >= now.passes;
        if (entry !== now || (over && entries.length === 1 && this.#programme.then === "again")) {
          this.#index = this.#index + 1 < entries.length ? this.#index + 1 : 0;
          this.#pass = 0;
        }
      }
      this.#spawn(entry, frame);
    }
  }

  /**
   * Start a pass at the edge; what lies before `frame` is past and stays silent.
   *
   * @param {Entry} entry
   * @param {number} frame
   */
  #spawn(entry, frame) {
    if (this.#count === ROUNDS) this.#drop();
    const round = this.#rounds[this.#count++];
    round.line = entry.line;
    round.pass = this.#pass++;
    round.tag = entry.tag;
    round.lead = entry === this.#programme?.lead;
    if (entry.line.rounds !== this.#clickRounds) this.#round = 0;
    this.#clickRounds = entry.line.rounds;
    round.turn = this.#round++;
    round.fired.fill(0);
    this.#move(round, entry.line, this.#edge);
    while (round.due < frame) this.#consume(round);
    align(this.#edge, entry.line);
    advance(this.#edge, entry.line);
  }

  /** Take back passes that have not started, so that another programme can have their place. @param {number} frame */
  #unspawn(frame) {
    while (this.#count > 1) {
      const round = this.#rounds[this.#count - 1];
      if (round.origin.whole <= frame || round === this.#current) return;
      this.#count--;
      round.due = Infinity;
      copyOrigin(this.#edge, round.origin);
      this.#round = round.turn;
      this.#pass = Math.max(0, this.#pass - 1);
    }
  }

  /**
   * Put a round at another origin or tempo. What has not sounded yet and would now be past sounds at once, in run().
   *
   * @param {Round} round
   * @param {Line} line
   * @param {import("./frames.js").Origin} origin
   */
  #move(round, line, origin) {
    round.line = line;
    copyOrigin(round.origin, origin);
    align(round.origin, line);
    round.cursor = -1;
    this.#seek(round);
  }

  /** @param {Round} round */
  #consume(round) {
    if (round.line !== null) round.fired[round.line.source[round.cursor]] = 1;
    this.#seek(round);
  }

  /** Go to the next event that has not sounded. @param {Round} round */
  #seek(round) {
    const { line } = round;
    round.due = Infinity;
    if (line === null) return;
    do round.cursor++;
    while (round.cursor < line.source.length && isPast(round, line));
    if (round.cursor < line.source.length) round.due = frameAt(round.origin, line, round.cursor);
  }

  /** Find the pass that is being played at `frame`: the last that has started. @param {number} frame */
  #locate(frame) {
    let found = this.#rounds[0];
    for (let k = 1; k < this.#count; k++) if (this.#rounds[k].origin.whole <= frame) found = this.#rounds[k];
    return found;
  }

  /** Let go of passes that are over and played out. @param {number} frame */
  #retire(frame) {
    const now = this.#locate(frame);
    if (now !== this.#current) this.#turn(now, now.origin.whole);
    while (this.#count > 1 && this.#rounds[0] !== now && this.#rounds[0].due === Infinity) this.#drop();
  }

  /**
   * @param {Round} round
   * @param {number} since
   */
  #turn(round, since) {
    this.#current = round;
    this.#since = since;
    this.turns++;
  }

  #drop() {
    const first = this.#rounds[0];
    first.due = Infinity;
    for (let k = 1; k < this.#count; k++) this.#rounds[k - 1] = this.#rounds[k];
    this.#rounds[--this.#count] = first;
  }
}

/**
 * Say whether the event at the cursor has sounded, or belongs to another round.
 *
 * @param {Round} round
 * @param {Line} line
 */
function isPast({ cursor, fired, turn }, line) {
  const only = line.round[cursor];
  return fired[line.source[cursor]] === 1 || (only >= 0 && only !== turn % line.rounds);
}

/** @param {import("./frames.js").Origin} origin */
function exact(origin) {
  return origin.whole + origin.num / origin.den;
}

/**
 * Say whether two lines have as many frames a tick.
 *
 * @param {Line} a
 * @param {Line} b
 */
function samePace(a, b) {
  return Math.abs((loopFrames(a) / a.loopTicks) * b.loopTicks - loopFrames(b)) < 1e-6;
}
