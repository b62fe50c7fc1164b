/**
 * What else to listen for: only what was added, a click, some of the counts, and playing through the
 * stages; the tempo by tapping, and how loud it is.
 *
 * Events: "tempo" with detail {bpm}, "listen" with detail {onlyAdded}, {volume} or {muted, soloed}, "click-set" as
 * gb-click says it, "part-set" as gb-part, "turns-set" and "change-over" as gb-turns, "loose" as gb-loose says it,
 * "loop" with detail {range} (in ticks, null for the whole beat), "through" with detail {on, times, back}.
 */

import { LitElement, css, html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { frameOf } from "../draw/frame.js";
import "./gb-click.js";
import "./gb-loose.js";
import "./gb-part.js";
import "./gb-turns.js";
import { controls } from "./inks.js";
import { Taps } from "./taps.js";

/** How often a stage may be played before the next. Our choice. */
const MOST = 16;
/** Range of the practice tempo; the player and the groove file have the same. */
const SLOWEST = 20;
const FASTEST = 300;

/** @typedef {import("../draw/shapes.js").View} View */

export class GbListening extends LitElement {
  static properties = {
    view: { attribute: false },
    ready: { type: Boolean },
    chosen: { type: Number },
    onlyAdded: { type: Boolean },
    clicks: { type: Boolean },
    clicking: { attribute: false },
    loose: { type: Number },
    through: { attribute: false },
    heardPart: { type: String },
    nothingHeard: { type: Boolean },
    turns: { attribute: false },
    tempo: { type: Number },
    volume: { type: Number },
    range: { attribute: false },
    muted: { attribute: false },
    soloed: { attribute: false },
  };

  static styles = [
    controls,
    css`
      :host { display: block; }
      .row { display: flex; flex-wrap: wrap; align-items: center; gap: 0.2rem 1.75rem; font-size: 0.95rem; }
      .row + .row { margin-top: 0.2rem; }
      .group { display: flex; flex-wrap: wrap; align-items: center; gap: 0 0.75rem; }
      .through input[type="number"] { width: 3.2rem; text-align: center; }
      .times, .counts label, .volume { display: inline-flex; align-items: center; gap: 0.4rem; min-height: 2.75rem; }
      .volume input { width: 7rem; }
      select { font: inherit; color: inherit; min-height: 2.75rem; max-width: 11rem; padding: 0.25rem 0.4rem; border: 1px solid var(--rule-strong); border-radius: 0.4rem; background: var(--raised); }
      .tempo { display: none; flex: 1 1 100%; align-items: center; gap: 0.75rem; }
      .tempo input { flex: 1; min-width: 4rem; }
      @media (max-width: 50rem) { .tempo { display: flex; } }
      button[aria-pressed="true"] { background: var(--ink-0); color: var(--paper); border-color: var(--ink-0); }
      @media (forced-colors: active) { button[aria-pressed="true"] { border-width: 3px; text-decoration: underline; } }
    `,
  ];

  #taps = new Taps();

  constructor() {
    super();
    /** @type {View | null} */ this.view = null;
    this.ready = false;
    this.chosen = 0;
    this.onlyAdded = false;
    this.clicks = false;
    this.clicking = { kind: "beats", countIn: 0, loud: 1, pan: 0, counted: "click" };
    this.loose = 20;
    this.tempo = 100;
    this.through = { on: false, times: 2, back: true };
    this.heardPart = "";
    this.nothingHeard = false;
    this.turns = { on: false, own: 0, other: 0, every: 2 };
    this.volume = 0.6;
    /** @type {{ start: number, end: number } | null} */ this.range = null;
    /** @type {string[]} */ this.muted = [];
    /** @type {string[]} */ this.soloed = [];
  }

  /** What steers the sound while it chooses the stage, null where nothing does. @returns {Element | null} */
  get steering() {
    return /** @type {import("./gb-turns.js").GbTurns | null} */ (this.renderRoot.querySelector("gb-turns"))?.changer ?? null;
  }

  render() {
    const volume = Math.round(this.volume * 100);
    return html`<div role="group" aria-label="Listening">
      <div class="row">
        <label class="tempo">slower, faster <input type="range" min=${SLOWEST} max=${FASTEST} step="1" .value=${String(this.tempo)}
          aria-label="Tempo" aria-valuetext=${`${this.tempo} bpm`} @input=${(/** @type {Event} */ e) =>
            this.#tell("tempo", { bpm: numberIn(e) })} /></label>
        <button type="button" @pointerdown=${this.#tap} @click=${this.#tapByKey}>Tap the tempo</button>
        <gb-click .on=${this.clicks} .kind=${this.clicking.kind} .countIn=${this.clicking.countIn} .loud=${this.clicking.loud} .pan=${this.clicking.pan} .counted=${this.clicking.counted}></gb-click>
        ${this.#counts()}
      </div>
      <div class="row">
        <gb-part .heard=${this.heardPart} .silent=${this.nothingHeard}></gb-part>
        <label class="tick"><input type="checkbox" .checked=${this.onlyAdded} @change=${(/** @type {Event} */ e) =>
          this.#tell("listen", { onlyAdded: checked(e) })} /> only what was added</label>
        ${this.#lines()}${this.#through()}
        <gb-turns .stages=${this.view?.stages.length ?? 1} .chosen=${this.chosen} .turns=${this.turns} .ready=${this.ready}></gb-turns>
      </div>
      <div class="row">
        <label class="volume">how loud <input type="range" min="0" max="100" step="1" .value=${String(volume)}
          aria-valuetext=${`${volume} of 100`} @input=${(/** @type {Event} */ e) => this.#tell("listen", { volume: numberIn(e) / 100 })} /></label>
        <gb-loose .loose=${this.loose}></gb-loose><slot></slot>
      </div>
    </div>`;
  }

  #through() {
    const { on, times, back } = this.through;
    return html`<span class="group through">
      <button type="button" aria-pressed=${on ? "true" : "false"} ?disabled=${!this.ready}
        @click=${() => this.#tell("through", { ...this.through, on: !on })}>Play through the stages</button>
      <label class="times">each
        <input type="number" inputmode="numeric" min="1" max=${MOST} .value=${String(times)} @change=${this.#times} />
        ${times === 1 ? "time" : "times"}</label>
      <label class="tick"><input type="checkbox" .checked=${back} @change=${(/** @type {Event} */ e) =>
        this.#tell("through", { ...this.through, back: checked(e) })} /> and back to the base</label>
    </span>`;
  }

  /** The counts to loop: from one of them to another, both included. */
  #counts() {
    const { range } = this;
    if (!this.view) return nothing;
    const frame = frameOf(this.view, this.chosen);
    const spoken = frame.grid.filter((column) => column.count !== "");
    const first = range?.start ?? 0;
    const ends = spoken.map((_, i) => spoken[i + 1]?.at ?? frame.cycle);
    const last = range?.end ?? frame.cycle;
    const options = (/** @type {number} */ chosen, /** @type {number[]} */ values) => spoken.map((column, i) =>
      html`<option value=${values[i]} .selected=${live(values[i] === chosen)}>${column.place}</option>`);
    return html`<span class="group counts" role="group" aria-label="Loop">
      <label>loop from <select name="from" aria-label="loop from" @change=${(/** @type {Event} */ e) => this.#loop(numberIn(e), last, ends)}>
        ${options(first, spoken.map(({ at }) => at))}</select></label>
      <label>to <select name="to" aria-label="loop to" @change=${(/** @type {Event} */ e) => this.#loop(first, numberIn(e), ends)}>${options(last, ends)}</select></label>
      ${range ? html`<button type="button" @click=${() => this.#tell("loop", { range: null })}>The whole beat</button>` : nothing}
    </span>`;
  }

  /** @param {number} start @param {number} end @param {number[]} ends */
  #loop(start, end, ends) {
    const cycle = this.view ? frameOf(this.view, this.chosen).cycle : 0;
    // A loop that would end before it begins goes to the end of the beat, or begins with it.
    const moved = start !== (this.range?.start ?? 0);
    if (end <= start && moved) end = cycle;
    else if (end <= start) start = Math.max(0, ...ends.filter((other) => other < end));
    this.#tell("loop", { range: start === 0 && end === cycle ? null : { start, end } });
  }

  /** Which lines are not heard, so that nobody wonders later; they are chosen at the lines themselves. */
  #lines() {
    const { view, muted, soloed } = this;
    const label = (/** @type {string} */ name) => view?.surfaces[name]?.label ?? name;
    if (!muted.length && !soloed.length) return nothing;
    const told = soloed.length ? `Only ${soloed.map(label).join(", ")}` : `Without ${muted.map(label).join(", ")}`;
    return html`<span class="group">${told}
      <button type="button" @click=${() => this.#tell("listen", { muted: [], soloed: [] })}>Hear all lines</button></span>`;
  }

  /** @param {Event} event */
  #tap(event) {
    const bpm = this.#taps.tap(event.timeStamp);
    if (bpm !== null) this.#tell("tempo", { bpm: Math.round(Math.min(FASTEST, Math.max(SLOWEST, bpm))) });
  }

  /** A click that no pointer has made. @param {MouseEvent} event */
  #tapByKey(event) {
    if (event.detail === 0) this.#tap(event);
  }

  /** @param {string} name @param {object} detail */
  #tell(name, detail) {
    this.dispatchEvent(new CustomEvent(name, { detail }));
  }

  /** @param {Event} event */
  #times(event) {
    const field = /** @type {HTMLInputElement} */ (event.currentTarget);
    const times = Math.min(MOST, Math.max(1, Math.round(Number(field.value)) || 1));
    field.value = String(times);
    this.#tell("through", { ...this.through, times });
  }
}

/** @param {Event} event @returns {boolean} */
function checked(event) {
  return /** @type {HTMLInputElement} */ (event.currentTarget).checked;
}

/** @param {Event} event @returns {number} */
function numberIn(event) {
  return Number(/** @type {HTMLInputElement} */ (event.currentTarget).value);
}

customElements.define("gb-listening", GbListening);
