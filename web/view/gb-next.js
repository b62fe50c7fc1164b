/**
 * The next variation: a button for each kind, with the sentence that a new one begins with.
 *
 * Events: "add" with detail {kind}.
 */

import { LitElement, css, html, nothing } from "lit";
import { controls } from "./inks.js";

export class GbNext extends LitElement {
  static properties = { kinds: { attribute: false }, place: { type: String } };

  static styles = [
    controls,
    css`
      :host { display: block; }
      h2 { margin: 0 0 0.4rem; font-size: 1rem; }
      ul { list-style: none; margin: 0; padding: 0; display: grid; gap: 0.5rem; grid-template-columns: repeat(auto-fill, minmax(min(14rem, 100%), 1fr)); }
      li button { display: flex; flex-direction: column; justify-content: flex-start; width: 100%; height: 100%; padding: 0.55rem 0.8rem; border-radius: 0.7rem; text-align: start; line-height: 1.3; }
      b { display: block; font-weight: 680; }
      span { color: var(--soft); font-size: 0.92rem; overflow-wrap: anywhere; }
    `,
  ];

  constructor() {
    super();
    /** @type {import("../protocol/messages.js").KindInfo[]} */ this.kinds = [];
    this.place = "";
  }

  render() {
    if (!this.kinds.length) return nothing;
    return html`<section aria-labelledby="next">
      <h2 id="next">Next variation, after ${this.place}</h2>
      <ul>${this.kinds.map(({ kind, heading, sentence }) => html`<li><button type="button" data-kind=${kind}
        @click=${() => this.dispatchEvent(new CustomEvent("add", { detail: { kind } }))}><b>${heading}</b> <span>${sentence}</span></button></li>`)}</ul>
    </section>`;
  }
}

customElements.define("gb-next", GbNext);
