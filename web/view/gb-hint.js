/**
 * One sentence for somebody who is here for the first time; once it is put away it does not come back.
 */

import { LitElement, css, html, nothing } from "lit";
import { controls } from "./inks.js";
import { isSeen, markSeen } from "./seen.js";

export class GbHint extends LitElement {
  static properties = { name: { type: String }, text: { type: String }, gone: { state: true } };

  static styles = [
    controls,
    css`
      :host { display: block; }
      p { display: flex; flex-wrap: wrap; align-items: center; gap: 0 0.6rem; margin: 0.15rem 0; color: var(--soft); font-size: 0.95rem; line-height: 1.35; }
      button { border: 0; background: none; padding: 0.25rem 0.5rem; text-decoration: underline; text-underline-offset: 0.2em; font-size: 0.9rem; }
    `,
  ];

  constructor() {
    super();
    this.name = "";
    this.text = "";
    this.gone = false;
  }

  render() {
    if (this.gone || isSeen(this.name)) return nothing;
    return html`<p><span>${this.text}</span>
      <button type="button" aria-label=${`Got it: ${this.text}`} @click=${this.#away}>Got it</button></p>`;
  }

  #away() {
    markSeen(this.name);
    this.gone = true;
  }
}

customElements.define("gb-hint", GbHint);
