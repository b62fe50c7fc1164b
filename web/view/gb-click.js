/**
 * The click and the count-in: which, how loud, and where.
 *
 * Event: "click-set" with detail of what has changed: {on}, {kind}, {countIn} in bars, {loud} 0..2, {pan} -1..1,
 * {counted} "click", "pitched" or "spoken".
 */

import { LitElement, css, html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { controls } from "./inks.js";

/** The engine's names of the kinds, and what a person reads. */
const KINDS = [
  ["beats", "on the beats"],
  ["eighths", "in eighths"],
  ["sixteenths", "in sixteenths"],
  ["triplets", "in triplets"],
  ["off-beats", "on the off-beats only"],
  ["ones", "on 1 only"],
  ["every other bar", "every other bar silent"],
  ["shrinking", "less each round: beats, every other, 1, none"],
];
const COUNTS = ["none", "one bar", "two bars"];
/** The Player's names of the ways to sound, and what a person reads. */
const VOICES = [
  ["click", "a click"],
  ["pitched", "a count in tones"],
  ["spoken", "a spoken count"],
];

export class GbClick extends LitElement {
  static properties = {
    on: { type: Boolean },
    kind: { type: String },
    countIn: { type: Number },
    loud: { type: Number },
    pan: { type: Number },
    counted: { type: String },
  };

  static styles = [
    controls,
    css`
      :host { display: flex; flex-wrap: wrap; align-items: center; gap: 0 0.75rem; min-width: 0; max-width: 100%; }
      label { display: inline-flex; align-items: center; gap: 0.4rem; min-height: 2.75rem; min-width: 0; max-width: 100%; }
      select {
        font: inherit; color: inherit; min-width: 0; max-width: 13rem; min-height: 2.75rem; padding: 0.25rem 0.4rem;
        border: 1px solid var(--rule-strong); border-radius: 0.4rem; background: var(--raised);
      }
      input[type="range"] { width: 5.5rem; min-width: 3rem; flex: 0 1 auto; }
      @media (max-width: 50rem) { select { max-width: 11rem; } }
    `,
  ];

  constructor() {
    super();
    this.on = false;
    this.kind = "beats";
    this.countIn = 0;
    this.loud = 1;
    this.pan = 0;
    this.counted = "click";
  }

  render() {
    return html`
      <label class="tick"><input type="checkbox" .checked=${live(this.on)} @change=${(/** @type {Event} */ e) =>
        this.#tell({ on: field(e).checked })} /> click</label>
      <select aria-label="Where the click falls" @change=${(/** @type {Event} */ e) => this.#tell({ kind: field(e).value })}>
        ${KINDS.map(([value, text]) => option(value, text, value === this.kind))}</select>
      <label>count-in <select aria-label="Count-in" @change=${(/** @type {Event} */ e) => this.#tell({ countIn: Number(field(e).value) })}>
        ${COUNTS.map((text, bars) => option(bars, text, bars === this.countIn))}</select></label>
      ${this.on || this.countIn ? this.#sound() : nothing}
    `;
  }

  #sound() {
    const loud = Math.round(this.loud * 100);
    const pan = Math.round(this.pan * 100);
    return html`
      <label>sound <select aria-label="Sound of the click" @change=${(/** @type {Event} */ e) => this.#tell({ counted: field(e).value })}>
        ${VOICES.map(([value, text]) => option(value, text, value === this.counted))}</select></label>
      <label>click volume <input type="range" min="0" max="200" step="1" .value=${String(loud)}
        aria-valuetext=${`${loud} of 100${loud > 100 ? ", louder than usual" : ""}`} @input=${(/** @type {Event} */ e) => this.#tell({ loud: Number(field(e).value) / 100 })} /></label>
      <label>left, right <input type="range" min="-100" max="100" step="10" .value=${String(pan)} aria-label="click: left, right"
        aria-valuetext=${sayPan(pan)} @input=${(/** @type {Event} */ e) => this.#tell({ pan: Number(field(e).value) / 100 })} /></label>
    `;
  }

  /** @param {{ on?: boolean, kind?: string, countIn?: number, loud?: number, pan?: number, counted?: string }} detail */
  #tell(detail) {
    this.dispatchEvent(new CustomEvent("click-set", { detail, bubbles: true, composed: true }));
  }
}

/** @param {string | number} value @param {string} text @param {boolean} chosen */
function option(value, text, chosen) {
  return html`<option value=${value} .selected=${live(chosen)}>${text}</option>`;
}

/** @param {Event} event @returns {HTMLInputElement} */
function field(event) {
  return /** @type {HTMLInputElement} */ (event.currentTarget);
}

/** @param {number} pan in hundredths @returns {string} */
function sayPan(pan) {
  if (pan === 0) return "in the middle";
  return `${Math.abs(pan)} of 100 to the ${pan < 0 ? "left" : "right"}`;
}

customElements.define("gb-click", GbClick);
