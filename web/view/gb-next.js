/**
 * The next variation: by what it is for, with ideas that fit this beat and why; or a button for each kind, with the
 * sentence that a new one begins with.
 *
 * `find` asks the engine for the ideas of a purpose. Events: "add" with detail {kind}, "begin" with detail {purpose, number}.
 */

import { LitElement, css, html, nothing } from "lit";
import { controls } from "./inks.js";

/** @typedef {import("../protocol/messages.js").OfferInfo} Offer */

export class GbNext extends LitElement {
  static properties = {
    kinds: { attribute: false },
    purposes: { attribute: false },
    place: { type: String },
    basis: { type: String },
    find: { attribute: false, hasChanged: () => false },
    purpose: { state: true },
    offers: { state: true },
  };

  static styles = [
    controls,
    css`
      :host { display: block; }
      h2 { margin: 0 0 0.4rem; font-size: 1rem; }
      h3 { margin: 0.6rem 0 0.3rem; font-size: 0.92rem; font-weight: 600; color: var(--soft); }
      .purposes { display: flex; flex-wrap: wrap; gap: 0.4rem; align-items: center; margin: 0 0 0.6rem; }
      .purposes button[aria-pressed="true"] { background: var(--ink-0); color: var(--paper); }
      ul { list-style: none; margin: 0 0 0.6rem; padding: 0; display: grid; gap: 0.5rem; grid-template-columns: repeat(auto-fill, minmax(min(14rem, 100%), 1fr)); }
      li button { display: flex; flex-direction: column; justify-content: flex-start; width: 100%; height: 100%; padding: 0.55rem 0.8rem; border-radius: 0.7rem; text-align: start; line-height: 1.3; }
      b { display: block; font-weight: 680; }
      li span { color: var(--soft); font-size: 0.92rem; overflow-wrap: anywhere; }
      .ideas { grid-template-columns: repeat(auto-fill, minmax(min(19rem, 100%), 1fr)); }
      p { margin: 0 0 0.6rem; }
      @media (forced-colors: active) { .purposes button[aria-pressed="true"] { background: Highlight; color: HighlightText; } }
    `,
  ];

  constructor() {
    super();
    /** @type {import("../protocol/messages.js").KindInfo[]} */ this.kinds = [];
    /** @type {string[]} */ this.purposes = [];
    this.place = "";
    this.basis = "";
    /** @type {(purpose: string) => Promise<{ offers?: Offer[] } | null>} */ this.find = async () => null;
    this.purpose = "";
    /** @type {Offer[] | null} null: not told yet */ this.offers = null;
  }

  /** @param {Map<PropertyKey, unknown>} changed */
  willUpdate(changed) {
    // The ideas are about one stage of one document.
    if (changed.has("basis") && this.purpose) this.#look(this.purpose);
  }

  render() {
    if (!this.kinds.length) return nothing;
    return html`<section aria-labelledby="next">
      <h2 id="next">Next variation, after ${this.place}</h2>
      <div class="purposes" role="group" aria-label="What it is for">
        <span>It is to be</span>
        ${this.purposes.map((purpose) => html`<button type="button" aria-pressed=${purpose === this.purpose ? "true" : "false"}
          @click=${() => this.#pick(purpose)}>${purpose}</button>`)}
      </div>
      <div aria-live="polite">${this.purpose ? this.#ideas() : nothing}</div>
      ${[...new Set(this.kinds.map(({ family }) => family))].map((family) => html`<h3>${family}</h3>
        <ul>${this.kinds.filter((one) => one.family === family).map(({ kind, heading, sentence }) => html`<li><button type="button" data-kind=${kind}
          @click=${() => this.dispatchEvent(new CustomEvent("add", { detail: { kind } }))}><b>${heading}</b> <span>${sentence}</span></button></li>`)}</ul>`)}
    </section>`;
  }

  #ideas() {
    if (!this.offers) return nothing;
    if (!this.offers.length) return html`<p>Nothing that we know makes this stage ${this.purpose} any more. Try another way, or a kind below.</p>`;
    return html`<ul class="ideas" aria-label=${`Ideas: ${this.purpose}`}>${this.offers.map(({ number, sentence, reason }) => html`<li><button type="button"
      @click=${() => this.dispatchEvent(new CustomEvent("begin", { detail: { purpose: this.purpose, number } }))}><b>${sentence}</b> <span>${reason}</span></button></li>`)}</ul>`;
  }

  /** @param {string} purpose */
  #pick(purpose) {
    this.purpose = purpose === this.purpose ? "" : purpose;
    this.offers = null;
    if (this.purpose) this.#look(purpose);
  }

  /** @param {string} purpose */
  async #look(purpose) {
    const { basis } = this;
    const reply = await this.find(purpose);
    if (basis === this.basis && purpose === this.purpose && reply?.offers) this.offers = reply.offers;
  }
}

customElements.define("gb-next", GbNext);
