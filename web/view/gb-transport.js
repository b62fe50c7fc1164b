/**
 * Play and stop, the practice tempo, and how much of the base beat is heard beside the chosen stage.
 *
 * Events: "toggle", "tempo" with detail {bpm}, "mix" with detail {mix}, "step" with detail {by}.
 * Tempo in the beat's own unit, always named; the practice tempo is not part of the document. In the slot "limits" stands
 * how fast the stage can go; where there is little room, only while the tempo is past that.
 */

import { LitElement, css, html } from "lit";
import { controls } from "./inks.js";

/** Range of the practice tempo; the player and the groove file have the same. */
const SLOWEST = 20;
const FASTEST = 300;

export class GbTransport extends LitElement {
  static properties = {
    state: { type: String },
    ready: { type: Boolean },
    tempo: { type: Number },
    goal: { type: Number },
    unit: { type: String },
    mix: { type: Number },
    chosen: { type: Number },
    stages: { type: Number },
    past: { type: Boolean, reflect: true },
  };

  static styles = [
    controls,
    css`
      :host { display: block; }
      .bar { display: flex; flex-wrap: wrap; align-items: center; gap: 0.35rem 1.75rem; }
      .play { font-size: 1.15rem; min-width: 7.5rem; min-height: 3.25rem; border-radius: 1.7rem; display: inline-flex; align-items: center; justify-content: center; gap: 0.6rem; }
      .play svg { width: 1rem; height: 1rem; fill: currentColor; }
      .group { display: flex; align-items: center; gap: 0.6rem; }
      .tempo { flex: 1 1 31rem; min-width: 0; }
      .tempo input[type="range"] { flex: 1 1 6rem; min-width: 4rem; }
      .tempo input[type="number"] { width: 4.6rem; font-size: 1.25rem; font-weight: 700; text-align: center; }
      .of { color: var(--soft); font-size: 0.9rem; line-height: 1.2; white-space: nowrap; }
      .blend { flex: 1 1 20rem; min-width: 0; border: 0; margin: 0; padding: 0; }
      .blend input { flex: 1; min-width: 4rem; }
      .ends { font-size: 0.9rem; line-height: 1.15; color: var(--soft); max-width: 6.5rem; }
      .steps { gap: 0.4rem; }
      .steps button { padding-inline: 0.8rem; }
      @media (max-width: 50rem) {
        .bar { gap: 0 0.75rem; }
        .play { min-width: 5.6rem; min-height: 2.75rem; padding-inline: 0.75rem; font-size: 1.05rem; }
        .tempo { flex: 0 1 auto; gap: 0.4rem; }
        .of { white-space: normal; font-size: 0.8rem; }
        .tempo input[type="range"] { display: none; }
        .tempo input[type="number"] { width: 4.2rem; }
        .blend { flex: 1 1 15rem; }
        :host(:not([past])) slot, :host([past]) .of { display: none; }
        .word { position: absolute; clip-path: inset(50%); width: 1px; height: 1px; overflow: hidden; }
        .steps { display: none; }
      }
    `,
  ];

  constructor() {
    super();
    this.state = "idle";
    this.ready = false;
    this.tempo = 100;
    this.goal = 100;
    this.unit = "quarter";
    this.mix = 1;
    this.chosen = 0;
    this.stages = 1;
    /** whether the tempo is past what is comfortable */ this.past = false;
  }

  render() {
    const on = this.state === "playing" || this.state === "interrupted";
    const loading = this.state === "loading";
    return html`<div class="bar">
      <button class="main play" type="button" ?disabled=${!this.ready} @click=${() => this.#tell("toggle")}>
        <svg viewBox="0 0 16 16" aria-hidden="true">
          <path d=${on || loading ? "M2 2h12v12H2z" : "M3 1l12 7-12 7z"}></path>
        </svg>
        ${on ? "Stop" : loading ? "Loading" : "Play"}
      </button>
      <div class="group tempo">
        <label for="bpm" class="word">Tempo</label>
        <input id="bpm" type="number" inputmode="numeric" min=${SLOWEST} max=${FASTEST} step="1" .value=${String(this.tempo)}
          @change=${this.#number} />
        <span class="of">of ${this.goal} bpm<br />a beat is ${article(this.unit)} ${this.unit}</span>
        <input type="range" min=${SLOWEST} max=${FASTEST} step="1" .value=${String(this.tempo)} aria-label="Tempo"
          aria-valuetext=${`${this.tempo} bpm`} @input=${this.#slide} />
        <slot name="limits"></slot>
      </div>
      <div class="group blend">
        <span class="ends" aria-hidden="true">base beat</span>
        <input type="range" min="0" max="100" step="1" .value=${String(Math.round(this.mix * 100))} ?disabled=${this.chosen === 0}
          aria-label="From the base beat to this stage" aria-valuetext=${sayMix(this.mix)} @input=${this.#blend} />
        <span class="ends" aria-hidden="true">this stage</span>
      </div>
      <div class="group steps">
        <button type="button" ?disabled=${this.chosen <= 0} @click=${() => this.#tell("step", { by: -1 })}>Stage back</button>
        <button type="button" ?disabled=${this.chosen >= this.stages - 1} @click=${() => this.#tell("step", { by: 1 })}>Next stage</button>
      </div>
    </div>`;
  }

  /** @param {string} name @param {object} [detail] */
  #tell(name, detail) {
    this.dispatchEvent(new CustomEvent(name, { detail }));
  }

  /** @param {Event} event */
  #number(event) {
    const field = /** @type {HTMLInputElement} */ (event.currentTarget);
    const asked = Math.round(Number(field.value));
    const bpm = Number.isFinite(asked) && field.value.trim() ? Math.min(FASTEST, Math.max(SLOWEST, asked)) : this.tempo;
    field.value = String(bpm);
    this.#tell("tempo", { bpm });
  }

  /** @param {Event} event */
  #slide(event) {
    this.#tell("tempo", { bpm: Number(/** @type {HTMLInputElement} */ (event.currentTarget).value) });
  }

  /** @param {Event} event */
  #blend(event) {
    this.#tell("mix", { mix: Number(/** @type {HTMLInputElement} */ (event.currentTarget).value) / 100 });
  }
}

/** @param {number} mix @returns {string} */
function sayMix(mix) {
  if (mix === 0) return "only the base beat";
  if (mix === 1) return "only this stage";
  if (mix === 0.5) return "both alike";
  return mix < 0.5 ? `more of the base beat, ${Math.round(mix * 100)}` : `more of this stage, ${Math.round(mix * 100)}`;
}

/** @param {string} word @returns {string} */
function article(word) {
  return /^[aeiou]/.test(word) ? "an" : "a";
}

customElements.define("gb-transport", GbTransport);
