/**
 * Who plays: the beat exactly as written, or a hand that is a little off in time and level, as a person is.
 *
 * Event: "loose" with detail {loose}, 0 to 100.
 */

import { LitElement, css, html } from "lit";
import { live } from "lit/directives/live.js";
import { controls } from "./inks.js";

/** What is offered, and how loose that is. Our choice. @type {[number, string][]} */
const HANDS = [
  [0, "exactly as written"],
  [20, "by a steady hand"],
  [50, "by an easy hand"],
  [100, "by a loose hand"],
];

export class GbLoose extends LitElement {
  static properties = { loose: { type: Number } };

  static styles = [
    controls,
    css`
      :host { display: inline-flex; min-width: 0; max-width: 100%; }
      label { display: inline-flex; align-items: center; gap: 0.4rem; min-height: 2.75rem; min-width: 0; max-width: 100%; }
      select {
        font: inherit; color: inherit; min-width: 0; max-width: 13rem; min-height: 2.75rem; padding: 0.25rem 0.4rem;
        border: 1px solid var(--rule-strong); border-radius: 0.4rem; background: var(--raised);
      }
    `,
  ];

  constructor() {
    super();
    this.loose = 20;
  }

  render() {
    // What was remembered may lie between two of them: the nearer one is shown.
    const near = HANDS.reduce((best, hand) => (Math.abs(hand[0] - this.loose) < Math.abs(best[0] - this.loose) ? hand : best));
    return html`<label>played <select aria-label="How it is played" @change=${this.#choose}>
      ${HANDS.map((hand) => html`<option value=${hand[0]} .selected=${live(hand === near)}>${hand[1]}</option>`)}
    </select></label>`;
  }

  /** @param {Event} event */
  #choose(event) {
    const loose = Number(/** @type {HTMLSelectElement} */ (event.currentTarget).value);
    this.dispatchEvent(new CustomEvent("loose", { detail: { loose }, bubbles: true, composed: true }));
  }
}

customElements.define("gb-loose", GbLoose);
