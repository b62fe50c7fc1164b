/**
 * The words beside the chosen stage: which place the keyboard is on, where a carried stroke would land, and the
 * buttons for what can be done there. Before anything was done it says in a sentence or two how to begin.
 *
 * Events: "menu" and "add-line", both with detail {box} (of the button); they bubble.
 */

import { LitElement, css, html } from "lit";
import { controls } from "./inks.js";

export class GbStrokeBar extends LitElement {
  static properties = {
    text: { type: String },
    base: { type: Boolean },
    stroke: { type: Boolean },
    narrow: { type: Boolean, reflect: true },
  };

  static styles = [controls, css`
    :host { display: block; }
    .bar { display: flex; flex-wrap: wrap; align-items: center; gap: 0.35rem 0.5rem; padding: 0.25rem 0.75rem 0.6rem 2.85rem; }
    :host([narrow]) .bar { padding-left: 0.75rem; }
    p { margin: 0; flex: 1 1 100%; min-height: 2.5em; font-size: 0.9rem; line-height: 1.25; color: var(--soft); overflow-wrap: anywhere; }
    button { padding: 0.2rem 0.6rem; font-size: 0.95rem; background: transparent; }
  `];

  constructor() {
    super();
    this.text = "";
    this.base = true;
    this.stroke = false;
    this.narrow = false;
  }

  render() {
    const later = this.base ? "" : " What you change here becomes a variation.";
    const hint = `Tap a line to add or take out a stroke. Carry one to move it, hold one to shape it.${later}`;
    return html`<div class="bar">
      <p>${this.text || hint}</p>
      <button type="button" aria-haspopup="dialog" aria-label="Shape it: loudness, grace, hand" ?disabled=${!this.stroke}
        @click=${(/** @type {Event} */ e) => this.#tell("menu", e)}>Shape it</button>
      <button type="button" aria-haspopup="dialog" @click=${(/** @type {Event} */ e) => this.#tell("add-line", e)}>Add a line</button>
    </div>`;
  }

  /** @param {string} name @param {Event} event */
  #tell(name, event) {
    const box = /** @type {HTMLElement} */ (event.currentTarget).getBoundingClientRect();
    this.dispatchEvent(new CustomEvent(name, { detail: { box }, bubbles: true, composed: true }));
  }
}

customElements.define("gb-stroke-bar", GbStrokeBar);
