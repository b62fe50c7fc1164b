/**
 * What stands around the strokes: undo and redo, and the beat's own frame: title, meter, bars, columns, goal tempo, feel,
 * note.
 *
 * The frame is folded away until it is wanted. Native fields; each is sent when it is left or Enter is pressed, and shows
 * again what holds if it was refused. A field that is being written in is left alone, whatever else changes.
 * Events: "undo", "redo", "edit" with detail {change, done}.
 */

import { LitElement, css, html, nothing } from "lit";
import "./gb-feel.js";
import { controls } from "./inks.js";

/** @typedef {import("../draw/shapes.js").View} View */

/** Meters that are offered; any other can be written. */
const METERS = ["2/4", "3/4", "4/4", "5/4", "6/4", "7/4", "2/2", "3/2", "5/8", "6/8", "7/8", "9/8", "12/8"];
const OTHER = "other";
const COLUMNS = ["eighths", "sixteenths", "thirty-seconds", "eighth triplets", "sixteenth triplets"];
/** Most bars of a beat; the engine has the same. */
const MOST = 16;

export class GbFrame extends LitElement {
  static properties = {
    view: { attribute: false },
    canUndo: { type: Boolean },
    canRedo: { type: Boolean },
    writing: { state: true },
  };

  static styles = [controls, css`
    :host { display: block; margin: 0.25rem 0 0.6rem; }
    .row { display: flex; flex-wrap: wrap; align-items: start; gap: 0.4rem; }
    details { flex: 1 1 100%; }
    .row > details { flex: 1 1 18rem; min-width: 0; }
    summary {
      display: inline-flex; align-items: center; gap: 0.5rem; min-height: 2.75rem; padding: 0.25rem 1rem; cursor: pointer; list-style: none;
      border: 1px solid var(--rule); border-radius: 1.4rem; background: var(--raised);
    }
    summary::-webkit-details-marker { display: none; }
    summary:hover { border-color: currentColor; }
    summary svg { width: 0.7rem; height: 0.7rem; fill: none; stroke: currentColor; stroke-width: 2; }
    details[open] summary svg { transform: rotate(180deg); }
    form {
      display: flex; flex-wrap: wrap; gap: 0.6rem 1rem; margin-top: 0.5rem; padding: 0.75rem 0.9rem 0.9rem; border: 1px solid var(--rule); border-radius: 0.8rem; background: var(--raised);
    }
    label { display: grid; gap: 0.15rem; font-size: 0.85rem; color: var(--soft); align-content: start; }
    label > * { color: var(--ink-0); font-size: 1rem; }
    .wide { flex: 1 1 16rem; min-width: 0; }
    .whole { flex: 1 1 100%; }
    input, textarea { width: 100%; }
    input[type="number"] { width: 5rem; }
    input.meter { width: 6rem; }
    select { min-height: 2.75rem; padding: 0.25rem 0.5rem; border: 1px solid var(--rule-strong); border-radius: 0.4rem; background: var(--raised); color: inherit; font: inherit; font-size: 1rem; }
    textarea { min-height: 3.5rem; resize: vertical; }
    .pair { display: flex; gap: 0.4rem; flex-wrap: wrap; }
    @media (max-width: 30rem) { .row button, summary { padding-inline: 0.8rem; } }
  `];

  constructor() {
    super();
    /** @type {View | null} */ this.view = null;
    this.canUndo = false;
    this.canRedo = false;
    /** whether a meter is written that is not offered */
    this.writing = false;
  }

  render() {
    const view = this.view;
    if (!view) return nothing;
    return html`<div class="row">
      <button type="button" ?disabled=${!this.canUndo} aria-keyshortcuts="Control+Z Meta+Z" @click=${() => this.#tell("undo")}>Undo</button>
      <button type="button" ?disabled=${!this.canRedo} aria-keyshortcuts="Control+Shift+Z Meta+Shift+Z" @click=${() => this.#tell("redo")}>Redo</button>
      <details>
        <summary>The beat <svg viewBox="0 0 10 10" aria-hidden="true"><path d="M1 3l4 4 4-4"></path></svg></summary>
        ${this.#form(view)}
      </details>
    </div>`;
  }

  /** @param {View} view */
  #form(view) {
    const offered = METERS.includes(view.meter) && !this.writing;
    return html`<form @submit=${(/** @type {Event} */ event) => event.preventDefault()}>
      <label class="wide"><span>Title</span>
        <input type="text" name="title" maxlength="200" autocomplete="off" @change=${this.#label} /></label>
      <label><span>Meter</span><span class="pair">
        <select name="meter" aria-label="Meter" @change=${this.#meter}>
          ${METERS.map((meter) => html`<option>${meter}</option>`)}
          <option value=${OTHER}>another</option>
        </select>
        ${offered ? nothing : html`<input class="meter" type="text" name="written" aria-label="Meter, such as 11/8" autocomplete="off"
          @change=${this.#meter} />`}
      </span></label>
      <label><span>Bars</span>
        <input type="number" name="bars" min="1" max=${MOST} step="1" inputmode="numeric" @change=${this.#frame} /></label>
      <label><span>Columns</span>
        <select name="columns" @change=${this.#frame}>
          ${COLUMNS.map((columns) => html`<option>${columns}</option>`)}
        </select></label>
      <label><span>Goal tempo</span>
        <input type="number" name="tempo" min="20" max="300" step="any" inputmode="decimal" @change=${this.#label} /></label>
      <gb-feel .view=${view} @edit=${(/** @type {CustomEvent} */ e) => this.dispatchEvent(new CustomEvent("edit", { detail: e.detail }))}></gb-feel>
      <label class="whole"><span>Teacher's note</span>
        <textarea name="note" rows="2" @change=${this.#label}></textarea></label>
    </form>`;
  }

  updated() {
    this.#fill(/** @type {ShadowRoot} */ (this.renderRoot).activeElement);
  }

  /** Let the fields show what holds, but for the one that is written in. @param {Element | null} [but] */
  #fill(but = null) {
    const view = this.view;
    if (!view) return;
    const offered = METERS.includes(view.meter) && !this.writing;
    const held = {
      title: view.title, meter: offered ? view.meter : OTHER, written: view.meter, bars: String(view.bars), columns: view.columns,
      tempo: String(view.tempo), note: view.note,
    };
    for (const [name, value] of Object.entries(held)) {
      const field = /** @type {HTMLInputElement | null} */ (this.renderRoot.querySelector(`[name="${name}"]`));
      if (field && field !== but && field.value !== value) field.value = value;
    }
  }

  /** @param {string} name */
  #tell(name) {
    this.dispatchEvent(new CustomEvent(name));
  }

  /** @param {object} change */
  #edit(change) {
    const done = (/** @type {boolean} */ made) => {
      if (!made) this.#fill();
    };
    this.dispatchEvent(new CustomEvent("edit", { detail: { change, done } }));
  }

  /** @param {string} name @returns {string} */
  #value(name) {
    return /** @type {HTMLInputElement} */ (this.renderRoot.querySelector(`[name="${name}"]`)).value;
  }

  #label() {
    this.#edit({ ask: "label", title: this.#value("title"), note: this.#value("note"), tempo: this.#value("tempo").trim() });
  }

  /** @param {Event} event */
  #meter(event) {
    const meter = /** @type {HTMLInputElement} */ (event.currentTarget).value.trim();
    this.writing = meter === OTHER;
    if (!this.writing && meter) this.#edit({ ask: "frame", meter });
  }

  /** @param {Event} event */
  #frame(event) {
    const field = /** @type {HTMLInputElement} */ (event.currentTarget);
    if (field.name === "columns") return this.#edit({ ask: "frame", columns: field.value });
    const bars = Math.round(Number(field.value));
    if (Number.isFinite(bars) && bars > 0) this.#edit({ ask: "frame", bars });
    else this.#fill();
  }
}

customElements.define("gb-frame", GbFrame);
