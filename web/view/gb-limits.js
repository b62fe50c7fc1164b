/**
 * How fast the chosen stage can go: the comfortable and the fastest tempo in words, and on request why.
 *
 * Where the practice tempo is past one of them the words say so.
 */

import { LitElement, css, html, nothing } from "lit";
import { openBeside } from "./beside.js";
import { controls } from "./inks.js";

export class GbLimits extends LitElement {
  static properties = {
    playing: { attribute: false },
    tempo: { type: Number },
  };

  static styles = [controls, css`
    :host { display: block; }
    button.words { padding: 0.2rem 0.5rem; border: 0; background: none; text-align: start; font-size: 0.9rem; line-height: 1.25; color: var(--soft); white-space: nowrap; }
    button.words span { text-decoration: underline dotted; text-underline-offset: 0.2em; }
    button.words.past { color: var(--ink-0); }
    b { font-weight: 650; }
    :host([slot]) button.words { padding-inline: 0.2rem; }
    @media (max-width: 50rem) { :host([slot]) button.words { font-size: 0.8rem; white-space: normal; max-width: 9.8rem; } :host([slot]) br { display: none; } }
    .why {
      position: fixed; inset: auto; margin: 0; width: min(26rem, calc(100vw - 1rem)); padding: 0.6rem 1rem 1rem; border: 1px solid var(--rule);
      border-radius: 1rem; background: var(--paper); color: var(--ink-0); box-shadow: var(--lift);
    }
    .top { display: flex; align-items: center; justify-content: space-between; gap: 0.5rem; }
    h2 { margin: 0; font-size: 1rem; }
    p { margin: 0.3rem 0 0; line-height: 1.4; overflow-wrap: anywhere; }
  `];

  constructor() {
    super();
    /** @type {import("../draw/shapes.js").Playing | null} */ this.playing = null;
    this.tempo = 100;
  }

  render() {
    const { playing } = this;
    if (!playing) return nothing;
    const { fastest, comfortable } = playing;
    const [told, past] = tellLimits(playing, this.tempo);
    return html`<button type="button" class=${past ? "words past" : "words"} aria-haspopup="dialog" @click=${this.#open}>${past ? html`<b>${told[0]}</b>` : html`<span>${told[0]}</span>`}<br /> <span>${told[1]}</span></button>
      <div class="why" popover role="dialog" aria-labelledby="why">
        <div class="top"><h2 id="why">How fast this stage can go</h2><button type="button" @click=${this.#close}>Close</button></div>
        ${comfortable.bpm === null ? nothing : html`<p><b>Comfortable to ${comfortable.bpm}.</b> ${limit(comfortable.because)}</p>`}
        <p>${fastest.bpm === null ? html`<b>Possible at no tempo.</b>` : html`<b>Possible to ${fastest.bpm}.</b>`} ${limit(fastest.because)}</p>
      </div>`;
  }

  /** @param {Event} event */
  #open(event) {
    const menu = /** @type {HTMLElement | null} */ (this.renderRoot.querySelector(".why"));
    const button = /** @type {HTMLElement} */ (event.currentTarget);
    if (!menu) return;
    openBeside(menu, button.getBoundingClientRect());
    menu.querySelector("button")?.focus();
  }

  #close() {
    /** @type {HTMLElement | null} */ (this.renderRoot.querySelector(".why"))?.hidePopover();
    /** @type {HTMLElement | null} */ (this.renderRoot.querySelector("button.words"))?.focus();
  }
}

/**
 * Say in two short lines how fast a stage can go, and whether a tempo is past that.
 * @param {import("../draw/shapes.js").Playing} playing @param {number} tempo @returns {[[string, string], boolean]}
 */
export function tellLimits({ fastest, comfortable }, tempo) {
  if (fastest.bpm === null) return [["not possible as it is,", "at any tempo"], true];
  if (tempo > fastest.bpm) return [["too fast: possible", `only to ${fastest.bpm}`], true];
  const possible = `possible to ${fastest.bpm}`;
  if (comfortable.bpm === null) return [["comfortable at no tempo,", possible], true];
  const past = tempo > comfortable.bpm;
  return [[`comfortable ${past ? "only " : ""}to ${comfortable.bpm},`, possible], past];
}

/** @param {string} because @returns {string} as a sentence */
function limit(because) {
  if (!because) return "";
  const text = because[0].toUpperCase() + because.slice(1);
  return /[.!?]$/.test(text) ? text : `${text}.`;
}

customElements.define("gb-limits", GbLimits);
