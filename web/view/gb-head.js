/**
 * The words beside a stage: its number, heading and name, what it changed, how far from the base beat it is, and for the
 * chosen stage what the engine has to say. Its sentence stands below its lines (gb-sentence).
 *
 * Events: "choose" (this stage), "switch" with detail {key, on, undo}: undo() where the engine does not follow, "accept"
 * with detail {key, number}: take up what the stage offers.
 */

import { LitElement, css, html, nothing, svg } from "lit";
import { live } from "lit/directives/live.js";
import { inkOf } from "../draw/colours.js";
import { controls, inks } from "./inks.js";

/** How long the way is that stands for a beat with nothing of the base beat in it, in pixels. Our choice. */
const WAY = 56;

export class GbHead extends LitElement {
  static properties = {
    stage: { attribute: false },
    chosen: { type: Boolean, reflect: true },
    home: { attribute: false },
  };

  static styles = [
    inks,
    controls,
    css`
      :host { display: block; box-sizing: border-box; padding: 0.15rem 0.75rem 0.15rem 0.6rem; }
      :host([chosen]) { padding-block: 0.5rem 0.25rem; }
      .top { display: flex; align-items: center; gap: 0.25rem; }
      h2 { margin: 0; flex: 1; min-width: 0; font-size: 1.02rem; line-height: 1.2; }
      :host([chosen]) h2 { font-size: 1.18rem; }
      h2 button:focus-visible { outline-offset: -2px; }
      h2 button {
        display: flex; align-items: center; gap: 0.6rem; width: 100%; padding: 0.15rem 0.4rem 0.15rem 0; border: 0; border-radius: 0.6rem;
        background: none; text-align: start; font-weight: 680;
      }
      .badge {
        flex: none; display: grid; place-items: center; width: 1.65rem; height: 1.65rem; border-radius: 50%;
        color: var(--paper); font-size: 0.9rem; font-weight: 750; border: 2px solid transparent;
      }
      .off .badge { background: none; color: var(--soft); border: 2px dashed var(--soft); }
      .off h2 button .words { color: var(--soft); text-decoration: line-through; text-decoration-thickness: 1px; }
      .words { min-width: 0; overflow-wrap: anywhere; }
      .summary { display: block; font-size: 0.8rem; font-weight: 650; line-height: 1.2; }
      .home { display: flex; align-items: center; gap: 0.45rem; min-height: 1.2em; margin: 0; padding-left: 2.25rem; font-size: 0.78rem; line-height: 1.2; color: var(--soft); }
      .home svg { flex: none; overflow: visible; }
      .home path { fill: none; stroke: var(--rule-strong); stroke-width: 1.5; }
      .home .way { stroke: var(--ink-0); stroke-width: 2; }
      .home circle { fill: var(--ink-0); }
      .home .door { fill: var(--behind, var(--paper)); stroke: var(--ink-0); stroke-width: 1.5; }
      .name { display: block; font-weight: 500; font-size: 0.9rem; color: var(--soft); }
      .switch { font-size: 0.85rem; color: var(--soft); min-width: 2.75rem; justify-content: center; gap: 0.35rem; }
      .more { padding-left: 2.25rem; }
      p.says { margin: 0.35rem 0 0; line-height: 1.4; overflow-wrap: anywhere; }
      .offer { margin-top: 0.4rem; text-align: start; line-height: 1.25; }
      .says { font-size: 0.9rem; padding-left: 0.6rem; border-left: 3px solid var(--rule-strong); }
      @media (forced-colors: active) {
        .badge { border: 2px solid CanvasText; color: CanvasText; }
        :host([chosen]) h2 button { text-decoration: underline; }
      }
    `,
  ];

  constructor() {
    super();
    /** @type {import("../draw/shapes.js").Stage | null} */ this.stage = null;
    this.chosen = false;
    /** @type {import("../draw/shapes.js").Home | null} how far from the base beat it is */ this.home = null;
  }

  /** Put the keyboard on this stage. */
  focus() {
    /** @type {HTMLElement | null} */ (this.renderRoot.querySelector("h2 button"))?.focus();
  }

  render() {
    const stage = this.stage;
    if (!stage) return nothing;
    const ink = inkOf(stage.stage);
    return html`<div class=${stage.on ? "" : "off"}>
      <div class="top">
        <h2>
          <button type="button" aria-pressed=${this.chosen ? "true" : "false"} @click=${this.#choose}>
            <span class="badge b${ink}">${stage.stage}</span>
            <span class="words">
              <span dir="auto">${stage.heading}</span>
              ${stage.name && stage.name !== stage.heading ? html`<span class="name" dir="auto">${stage.name}</span>` : nothing}
              ${stage.summary ? html`<span class="summary t${ink}">${stage.summary}</span>` : nothing}
            </span>
          </button>
        </h2>
        ${stage.stage === 0 ? nothing : html`<label class="tick switch">
          <input type="checkbox" role="switch" .checked=${live(stage.on)}
            aria-label=${`on: stage ${stage.stage}, ${stage.heading}`} @change=${this.#switch} />
          <span aria-hidden="true">on</span>
        </label>`}
      </div>
      ${stage.stage ? home(this.home) : nothing}
      ${this.chosen && stage.says.length + stage.offers.length
        ? html`<div class="more">${stage.says.map((text) => html`<p class="says">${text}</p>`)}
            ${stage.offers.map((text, number) => html`<button type="button" class="offer" @click=${() => this.#accept(number)}>${text}</button>`)}</div>`
        : nothing}
    </div>`;
  }

  #choose() {
    this.dispatchEvent(new CustomEvent("choose"));
  }

  /** @param {number} number */
  #accept(number) {
    this.dispatchEvent(new CustomEvent("accept", { bubbles: true, composed: true, detail: { key: this.stage?.key, number } }));
  }

  /** @param {Event} event */
  #switch(event) {
    const box = /** @type {HTMLInputElement} */ (event.currentTarget);
    const on = box.checked;
    const undo = () => {
      box.checked = !on;
    };
    this.dispatchEvent(new CustomEvent("switch", { detail: { key: this.stage?.key, on, undo } }));
  }
}

/**
 * How far from home: a way as long as the distance, and how many strokes of the base beat sound where they stood. It has
 * its room before it is known, so that nothing moves under a hand.
 * @param {import("../draw/shapes.js").Home | null} home
 */
function home(home) {
  if (!home) return html`<p class="home"></p>`;
  const { distance, kept, moved, altered, covered, gone } = home;
  const all = kept + moved + altered + covered + gone;
  const x = 3 + (WAY * Math.min(100, Math.max(0, distance))) / 100;
  return html`<p class="home"><svg width=${WAY + 6} height="8" aria-hidden="true">
      <path d=${`M3 4H${WAY + 3}`}></path><path class="way" d=${`M3 4H${x}`}></path>
      ${svg`<rect class="door" x="0.750" y="1.250" width="5" height="5.500"></rect><circle cx=${x} cy="4" r="3"></circle>`}</svg>
    <span>${all === kept ? "all" : `${kept} of ${all}`} at home<span class="unseen">, ${distance} of 100 away from the base beat</span></span></p>`;
}

customElements.define("gb-head", GbHead);
