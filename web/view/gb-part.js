/**
 * Which part of the beat is heard: all of it, the hands, the feet, one limb, or only what the chosen stage brought.
 *
 * The engine decides what a part is; here stand its names and what a person reads. Where a part of this stage has no
 * stroke at all, that is said.
 *
 * Event: "part-set" with detail {part}.
 */

import { LitElement, css, html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { controls } from "./inks.js";

/** The engine's names, and what a person reads. */
const PARTS = [
  ["", "everything"],
  ["hands", "the hands"],
  ["feet", "the feet"],
  ["right hand", "the right hand"],
  ["left hand", "the left hand"],
  ["right foot", "the right foot"],
  ["left foot", "the left foot"],
  ["added here", "only what this stage adds"],
];

export class GbPart extends LitElement {
  static properties = {
    heard: { type: String },
    silent: { type: Boolean },
  };

  static styles = [
    controls,
    css`
      :host { display: inline-flex; flex-wrap: wrap; align-items: center; gap: 0 0.75rem; min-width: 0; max-width: 100%; }
      label { display: inline-flex; align-items: center; gap: 0.4rem; min-height: 2.75rem; min-width: 0; max-width: 100%; }
      select {
        font: inherit; color: inherit; min-width: 0; max-width: 13rem; min-height: 2.75rem; padding: 0.25rem 0.4rem;
        border: 1px solid var(--rule-strong); border-radius: 0.4rem; background: var(--raised);
      }
      .none { color: var(--soft); }
    `,
  ];

  constructor() {
    super();
    this.heard = "";
    /** whether nothing of the chosen stage is in this part */ this.silent = false;
  }

  render() {
    return html`<label>hear <select aria-label="What is heard" @change=${(/** @type {Event} */ e) =>
        this.#tell(/** @type {HTMLSelectElement} */ (e.currentTarget).value)}>
        ${PARTS.map(([value, text]) => html`<option value=${value} .selected=${live(value === this.heard)}>${text}</option>`)}</select></label>
      <span class="none" role="status">${this.heard && this.silent ? "Nothing in this stage." : nothing}</span>`;
  }

  /** @param {string} part */
  #tell(part) {
    this.dispatchEvent(new CustomEvent("part-set", { detail: { part }, bubbles: true, composed: true }));
  }
}

customElements.define("gb-part", GbPart);
