/**
 * One message to the person: what happened and what to do. Trouble is announced at once, the rest when there is time.
 *
 * Events: "dismiss", "again" (the offered second try).
 */

import { LitElement, css, html, nothing } from "lit";
import { controls } from "./inks.js";

export class GbNotice extends LitElement {
  static properties = {
    text: { type: String },
    trouble: { type: Boolean, reflect: true },
    again: { type: Boolean },
  };

  static styles = [
    controls,
    css`
      :host { display: block; }
      .note {
        display: flex; flex-wrap: wrap; align-items: center; gap: 0.5rem 1rem; margin: 0 0 0.75rem; padding: 0.5rem 0.5rem 0.5rem 1rem;
        border-radius: 0.7rem; background: var(--raised); box-shadow: var(--lift); border-left: 6px solid var(--rule-strong);
      }
      :host([trouble]) .note { border-left-color: var(--ink-2); }
      p { margin: 0; flex: 1 1 16rem; line-height: 1.45; overflow-wrap: anywhere; }
      .buttons { display: flex; gap: 0.5rem; }
      @media (forced-colors: active) { .note { border: 2px solid CanvasText; } }
    `,
  ];

  constructor() {
    super();
    this.text = "";
    this.trouble = false;
    this.again = false;
  }

  render() {
    return html`<div role=${this.trouble ? "alert" : "status"}>${this.text
      ? html`<div class="note">
          <p dir="auto">${asSentence(this.text)}</p>
          <span class="buttons">
            ${this.again ? html`<button type="button" @click=${() => this.#tell("again")}>Try again</button>` : nothing}
            <button type="button" @click=${() => this.#tell("dismiss")}>Dismiss</button>
          </span>
        </div>`
      : nothing}</div>`;
  }

  /** @param {string} name */
  #tell(name) {
    this.dispatchEvent(new CustomEvent(name));
  }
}

/**
 * Begin with a capital and end with a stop, as a line of its own should; the engine's texts also stand after a name.
 * @param {string} text @returns {string}
 */
function asSentence(text) {
  const [first] = text.split(" ", 1);
  const begun = /^[a-z]+[,:]?$/.test(first) ? first[0].toUpperCase() + text.slice(1) : text;
  return /[.!?…”)]$/.test(begun) ? begun : `${begun}.`;
}

customElements.define("gb-notice", GbNotice);
