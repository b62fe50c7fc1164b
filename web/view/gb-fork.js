/**
 * The quiet control by which a second way is tried from a stage; what comes after it is kept.
 *
 * Events: "fork".
 */

import { LitElement, css, html } from "lit";
import { controls } from "./inks.js";

export class GbFork extends LitElement {
  static properties = { place: { type: String } };

  static styles = [
    controls,
    css`
      :host { display: block; }
      p { display: flex; flex-wrap: wrap; align-items: center; gap: 0 0.75rem; margin: 0.25rem 0 0; }
      span { color: var(--soft); font-size: 0.9rem; line-height: 1.35; }
    `,
  ];

  constructor() {
    super();
    this.place = "";
  }

  render() {
    return html`<p><button type="button" aria-describedby="kept" @click=${() => this.dispatchEvent(new CustomEvent("fork"))}>Try another way from here</button>
      <span id="kept">What comes after ${this.place} is kept beside it.</span></p>`;
  }
}

customElements.define("gb-fork", GbFork);
