/**
 * The audio thread's program: takes commands, runs the sequencer, mixes, and tells where the playhead is.
 *
 * Bundled on its own; it imports nothing at run time. Commands come by message, or in advance in
 * `processorOptions.commands` with the frame each is meant for (an offline context gets no messages in time).
 * A command takes effect at the start of a block.
 *
 * Frames are counted here, one block a call. `currentFrame` cannot be trusted for that: on a loaded machine Chromium
 * lets it stand for a block or for many while blocks are asked for, and then it jumps (measured: up to 0.4 s behind at
 * the first block, single blocks later). It was never seen ahead, so the greatest lead it ever has over our own count
 * is by how much that count began too low. What is reported is put right by that lead; what sounds never moves.
 *
 * To the page goes, at most 60 times a second, one array that is used again and again:
 *     [frame, start of the pass, frames of the loop, ticks of the loop, pass, tag, frame since which this holds,
 *      strokes without a sample so far, the lead that is in these frames]
 * and rarely {kind: "begun", frame, lead} or {kind: "ended", frame, lead}.
 */
import { Mixer } from "./mixer.js";
import { Sequencer } from "./sequencer.js";

/** Seconds between two reports while nothing turns; and the least there ever is. */
const HEARTBEAT = 1 / 20;
const LEAST = 1 / 60;

/**
 * Seconds from play to the first stroke, more only where a grace before it needs them. The device is awake by then; so
 * many that a late first block cuts nothing, and few enough that play answers at once. Our choice.
 */
const HEADSTART = 0.04;

/** @typedef {import("./sequencer.js").Programme} Programme */
/**
 * @typedef {{kind: "surfaces", surfaces: import("./mixer.js").Surfaces}
 *   | {kind: "samples", samples: {slot: number, alternate: number, pcm: Float32Array}[]}
 *   | {kind: "gains", groups: ArrayLike<number>, surfaces: ArrayLike<number>}
 *   | {kind: "pan", surface: number, pan: number}
 *   | {kind: "play", programme: Programme}
 *   | {kind: "programme", programme: Programme, at: "loop"|"now"}
 *   | {kind: "retime", lines: import("./line.js").Line[]}
 *   | {kind: "stop"}
 *   | {kind: "close"}} Command
 */

class Processor extends AudioWorkletProcessor {
  /** @type {(Command & {frame?: number})[]} */
  #inbox;
  #mixer = new Mixer(sampleRate);
  #sequencer = new Sequencer();
  #note = new Float64Array(9);
  #turns = 0;
  #reported = -Infinity;
  #open = true;
  /** Frame of the block that comes, by our own count; and what to add for the context's. */
  #frame = -1;
  #lead = 0;

  /** @param {AudioWorkletNodeOptions} options */
  constructor(options) {
    super();
    this.#inbox = [...(options.processorOptions?.commands ?? [])];
    this.port.onmessage = ({ data }) => {
      this.#makeRoom(data);
      this.#inbox.push(data);
    };
    for (const command of this.#inbox) this.#makeRoom(command);
  }

  /**
   * @param {Float32Array[][]} _inputs
   * @param {Float32Array[][]} outputs
   */
  process(_inputs, outputs) {
    const left = outputs[0][0];
    const right = outputs[0][1];
    if (this.#frame < 0) this.#frame = currentFrame;
    const frame = this.#frame;
    if (currentFrame - frame > this.#lead) this.#lead = currentFrame - frame;
    if (this.#inbox.length > 0) this.#obey();
    const sequencer = this.#sequencer;
    const playing = sequencer.playing;
    if (playing) sequencer.run(frame, left.length, this.#mixer);
    this.#mixer.mix(left, right, frame);
    if (playing && !sequencer.playing) this.#tell("ended", frame);
    if (playing) this.#report();
    this.#frame = frame + left.length;
    return this.#open;
  }

  /** @param {Command} command */
  #makeRoom(command) {
    if (command.kind !== "play" && command.kind !== "programme") return;
    const { entries, lead } = command.programme;
    for (const { line } of lead ? [lead, ...entries] : entries) this.#sequencer.reserve(line.source.length);
  }

  #obey() {
    let kept = 0;
    for (let k = 0; k < this.#inbox.length; k++) {
      const command = this.#inbox[k];
      if (command.frame !== undefined && command.frame > this.#frame) this.#inbox[kept++] = command;
      else this.#do(command);
    }
    this.#inbox.length = kept;
  }

  /** @param {Command} command */
  #do(command) {
    switch (command.kind) {
      case "surfaces":
        this.#mixer.setSurfaces(command.surfaces);
        break;
      case "samples":
        this.#mixer.addSamples(command.samples);
        break;
      case "gains":
        this.#mixer.setGains(command.groups, command.surfaces);
        break;
      case "pan":
        this.#mixer.setPan(command.surface, command.pan);
        break;
      case "play":
        this.#begin(command.programme);
        break;
      case "programme":
        this.#sequencer.replace(command.programme, command.at, this.#frame);
        break;
      case "retime":
        this.#sequencer.retime(command.lines, this.#frame);
        break;
      case "stop":
        this.#sequencer.end();
        this.#mixer.hush(this.#frame);
        break;
      case "close":
        this.#open = false;
        break;
    }
  }

  /** @param {Programme} programme */
  #begin(programme) {
    const ahead = Math.max(Math.ceil(HEADSTART * sampleRate), (programme.lead ?? programme.entries[0]).line.early + 1);
    const frame = this.#frame + ahead;
    this.#mixer.hush(this.#frame);
    this.#mixer.rewind();
    this.#sequencer.begin(programme, frame);
    this.#tell("begun", frame);
  }

  /**
   * @param {"begun"|"ended"} kind
   * @param {number} frame  by our own count
   */
  #tell(kind, frame) {
    this.port.postMessage({ kind, frame: frame + this.#lead, lead: this.#lead });
  }

  #report() {
    const turned = this.#sequencer.turns !== this.#turns;
    const since = this.#frame - this.#reported;
    if (since < LEAST * sampleRate || (!turned && since < HEARTBEAT * sampleRate)) return;
    this.#reported = this.#frame;
    this.#turns = this.#sequencer.turns;
    this.#note[0] = this.#frame + this.#lead;
    this.#sequencer.describe(this.#note, 1);
    this.#note[1] += this.#lead;
    this.#note[6] += this.#lead;
    this.#note[7] = this.#mixer.missing;
    this.#note[8] = this.#lead;
    this.port.postMessage(this.#note);
  }
}

registerProcessor("groundbeat", Processor);
