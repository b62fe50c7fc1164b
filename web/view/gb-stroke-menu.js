/**
 * The small menu of one stroke: how loud it is, its grace, which hand plays it. Each word is a button that says whether
 * it holds now; the menu stays open until it is closed, for more than one of them may be wanted.
 *
 * `open(box)` opens it. Events: "shape" with detail {quality, value}, "out", "closed".
 */

import { LitElement, css, html, nothing, svg } from "lit";
import { drawPillar } from "../draw/pillar.js";
import { openBeside } from "./beside.js";
import { controls } from "./inks.js";

/** @type {[string, string, [string, string][]][]} quality, heading, and [value, word] */
const QUALITIES = [
  ["dynamic", "Loudness", [["ghost", "ghost"], ["soft", "soft"], ["normal", "normal"], ["accent", "accent"]]],
  ["grace", "Grace", [["", "none"], ["flam", "flam"], ["drag", "drag"], ["ruff", "four-stroke ruff"], ["buzz", "buzz"], ["diddle", "diddle"], ["choke", "choke"]]],
  ["hand", "Hand", [["", "free"], ["R", "right"], ["L", "left"]]],
];

export class GbStrokeMenu extends LitElement {
  static properties = { stroke: { attribute: false } };

  static styles = [controls, css`
    .menu {
      position: fixed; inset: auto; margin: 0; width: min(23rem, calc(100vw - 1rem)); max-height: calc(100dvh - 1rem); overflow: auto;
      padding: 0.5rem 0.9rem 0.9rem; border: 1px solid var(--rule); border-radius: 1rem; background: var(--paper); color: var(--ink-0); box-shadow: var(--lift);
    }
    .top { display: flex; align-items: center; justify-content: space-between; gap: 0.5rem; }
    h2 { margin: 0; flex: 1; min-width: 0; font-size: 1rem; line-height: 1.25; overflow-wrap: anywhere; }
    .top button { flex: none; }
    h3 { margin: 0.5rem 0 0.3rem; font-size: 0.85rem; font-weight: 650; color: var(--soft); }
    .words { display: flex; flex-wrap: wrap; gap: 0.4rem; }
    .words button { padding: 0.2rem 0.8rem; display: inline-flex; align-items: center; gap: 0.45rem; }
    [aria-pressed="true"] { background: var(--ink-0); border-color: var(--ink-0); color: var(--paper); font-weight: 650; }
    svg { width: 12px; height: 26px; flex: none; overflow: visible; fill: currentColor; }
    .hollow { fill: none; stroke: currentColor; stroke-width: 1.8; }
    .mark { fill: none; stroke: currentColor; stroke-width: 1.6; }
    .key { font-size: 0.8rem; opacity: 0.75; }
    .out { margin-top: 0.9rem; }
    @media (forced-colors: active) { [aria-pressed="true"] { outline: 3px solid Highlight; } }
  `];

  constructor() {
    super();
    /** @type {import("../draw/shapes.js").Stroke | null} */ this.stroke = null;
  }

  /** Open beside a box of the window. @param {DOMRect} box */
  async open(box) {
    await this.updateComplete;
    if (!this.#menu || !this.stroke) return;
    openBeside(this.#menu, box);
    /** @type {HTMLElement | null} */ (this.renderRoot.querySelector('[aria-pressed="true"]'))?.focus();
  }

  /** Close it. */
  close() {
    if (this.#menu?.matches(":popover-open")) this.#menu.hidePopover();
  }

  /** @returns {HTMLElement | null} */
  get #menu() {
    return this.renderRoot.querySelector(".menu");
  }

  render() {
    const stroke = this.stroke;
    return html`<div class="menu" popover role="dialog" aria-labelledby="of" @toggle=${this.#toggled}>
      <div class="top"><h2 id="of">${stroke?.label ?? "No stroke"}</h2><button type="button" @click=${this.close}>Close</button></div>
      ${stroke ? QUALITIES.map(([quality, heading, words]) => html`<h3 id=${quality}>${heading}${quality === "hand" ? html` <span class="key" aria-hidden="true">5</span>` : nothing}</h3>
        <div class="words" role="group" aria-labelledby=${quality}>
          ${words.map(([value, word], i) => html`<button type="button" aria-pressed=${stroke[/** @type {"grace"} */ (quality)] === value ? "true" : "false"}
            @click=${() => this.#tell("shape", { quality, value })}>${quality === "dynamic" ? pillar(stroke, value) : nothing}${word}${quality === "dynamic"
              ? html` <span class="key" aria-hidden="true">${i + 1}</span>` : nothing}</button>`)}
        </div>`) : nothing}
      ${stroke ? html`<button type="button" class="out" @click=${() => this.#tell("out")}>Take the stroke out</button>` : nothing}
    </div>`;
  }

  /** @param {string} name @param {object} [detail] */
  #tell(name, detail) {
    this.dispatchEvent(new CustomEvent(name, { detail }));
  }

  /** @param {ToggleEvent} event */
  #toggled(event) {
    if (event.newState === "closed") this.#tell("closed");
  }
}

/** @param {import("../draw/shapes.js").Stroke} stroke @param {string} dynamic */
function pillar(stroke, dynamic) {
  const drawn = drawPillar({ ...stroke, dynamic: /** @type {any} */ (dynamic), grace: "", changed_by: [] }, 6, 26, 40, 24);
  return html`<svg viewBox="0 0 12 26" aria-hidden="true"><path class=${drawn.hollow ? "hollow" : ""} d=${drawn.d}></path>
    ${drawn.accent ? svg`<path class="mark" d=${drawn.accent}></path>` : nothing}</svg>`;
}

customElements.define("gb-stroke-menu", GbStrokeMenu);
