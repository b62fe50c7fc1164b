/**
 * What the page knows at this moment: one plain object, replaced whole, never changed in place.
 *
 * The document is `view.document`; everything else is how it is looked at and listened to, and is neither in the link
 * nor in an undo.
 */

import { USUAL } from "./own-click.js";
import { EXACT } from "./own-loose.js";
import { MODEST } from "./own-offset.js";
import { PLAIN } from "./own-staff.js";

/**
 * @typedef {"example" | "link" | "none"} Origin what is shown: the stored example, something opened, or nothing
 * @typedef {{ start: number, end: number }} Range the part of the cycle that is looped, in written ticks
 * @typedef {{ text: string, trouble: boolean, again: boolean }} Notice
 * @typedef {"open" | "edit" | "engine" | "sound"} Topic what a notice is about; a newer one takes its place
 * @typedef {{
 *   engine: "idle" | "starting" | "ready" | "restarting" | "failed" | "closed", engineStage: string, engineDone: number,
 *   view: import("../draw/shapes.js").View | null, partial: boolean, before: import("../draw/shapes.js").View | null, beforeChosen: number,
 *   canUndo: boolean, canRedo: boolean, origin: Origin, expecting: boolean, chosen: number,
 *   timeline: import("../draw/shapes.js").Timeline | null, tempo: number | null, mix: number, onlyAdded: boolean,
 *   click: boolean, clicking: import("./own-click.js").Clicking, loose: number, through: { on: boolean, times: number, back: boolean },
 *   part: string, turns: { on: boolean, own: number, other: number, every: number }, sound: string, notices: Partial<Record<Topic, Notice>>,
 *   dropping: boolean, beats: { title: string, about: string, link: string }[],
 *   kinds: import("../protocol/messages.js").KindInfo[], purposes: string[], volume: number, offset: number, range: Range | null,
 *   muted: string[], soloed: string[], kit: string, things: string[], presets: import("../protocol/messages.js").PresetInfo[],
 *   sounds: import("./own-sound.js").Sound[], sounding: string,
 *   player: string, playing: import("../draw/shapes.js").Playing | null, playingStale: boolean,
 *   home: ReadonlyMap<number, import("../draw/shapes.js").Home>, strokeTypes: boolean, spot: number, staff: import("./own-staff.js").StaffLook,
 * }} State
 *   expecting: a link is being opened and nothing else is to be shown meanwhile;
 *   partial: only the edited stage is drawn so far, the stages after it are on their way;
 *   before: while a change is tried, the view as it was; null when nothing is tried;
 *   tempo: the practice tempo, null for the beat's own;
 *   click: whether the click sounds; clicking: which click and count-in, how loud and where;
 *   loose: how loosely it is played, 0 exactly as written to 100;
 *   part: what of the beat is heard, as the engine names it, "" for all; turns: two stages in turn, own and other, so many
 *   rounds each;
 *   kit: the student's own kit as text, "" for as written; things, presets: what a kit can be;
 *   sounds: the kits that can sound; sounding: the name of the one that does, "" for the usual one;
 *   player: who plays, as text, "" for the usual player; playing: what is known of playing the chosen stage, null where
 *   nothing is known yet; playingStale: it is of a moment ago, the newer is on its way; home: how far from the base beat
 *   each stage is, by its key; strokeTypes: whether the stroke types stand under the letters; spot: which of the spots is
 *   looked at, -1 for none; staff: whether the chosen stage stands on a staff too, and what stands below it;
 *   muted, soloed: lines that are silent, and those that alone are heard, by surface.
 */

/** @type {State} */
const START = {
  engine: "idle",
  engineStage: "runtime",
  engineDone: 0,
  view: null,
  partial: false,
  before: null,
  beforeChosen: 0,
  canUndo: false,
  canRedo: false,
  origin: "none",
  expecting: false,
  chosen: 0,
  timeline: null,
  tempo: null,
  mix: 1,
  onlyAdded: false,
  click: false,
  clicking: USUAL,
  loose: EXACT,
  through: { on: false, times: 2, back: true },
  part: "",
  turns: { on: false, own: 0, other: 0, every: 2 },
  sound: "idle",
  notices: {},
  dropping: false,
  beats: [],
  kinds: [],
  purposes: [],
  volume: MODEST,
  offset: 0,
  range: null,
  muted: [],
  soloed: [],
  kit: "",
  things: [],
  presets: [],
  sounds: [],
  sounding: "",
  player: "",
  playing: null,
  playingStale: false,
  home: new Map(),
  strokeTypes: false,
  spot: -1,
  staff: PLAIN,
};

export class Store {
  #state = START;
  /** @type {Set<(state: State) => void>} */
  #listeners = new Set();
  #told = false;

  /** @returns {State} */
  get state() {
    return this.#state;
  }

  /** Replace some of the state; listeners hear of it once, soon. @param {Partial<State>} change */
  set(change) {
    this.#state = { ...this.#state, ...change };
    if (this.#told) return;
    this.#told = true;
    queueMicrotask(() => {
      this.#told = false;
      for (const listener of this.#listeners) listener(this.#state);
    });
  }

  /** Show a notice, or take it away. @param {Topic} topic @param {Notice | null} notice */
  tell(topic, notice) {
    const { [topic]: _, ...others } = this.#state.notices;
    this.set({ notices: notice ? { ...others, [topic]: notice } : others });
  }

  /** @param {(state: State) => void} listener */
  listen(listener) {
    this.#listeners.add(listener);
  }
}
