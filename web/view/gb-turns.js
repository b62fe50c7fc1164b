/**
 * Two stages in turn, so that the ear can hold one against the other: which, how many rounds each, and the change-over.
 *
 * Events: "turns-set" with detail {on, own, other, every}; "change-over" when the other one is wished for at the next
 * loop point.
 */

import { LitElement, css, html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { controls } from "./inks.js";

/** Rounds of a stage at most before the other comes. Our choice, as for playing through the stages. */
const MOST = 16;

export class GbTurns extends LitElement {
  static properties = {
    stages: { type: Number },
    chosen: { type: Number },
    turns: { attribute: false },
    ready: { type: Boolean },
  };

  static styles = [
    controls,
    css`
      :host { display: inline-flex; flex-wrap: wrap; align-items: center; gap: 0 0.75rem; min-width: 0; max-width: 100%; }
      label { display: inline-flex; align-items: center; gap: 0.4rem; min-height: 2.75rem; }
      select {
        font: inherit; color: inherit; min-height: 2.75rem; max-width: 11rem; padding: 0.25rem 0.4rem;
        border: 1px solid var(--rule-strong); border-radius: 0.4rem; background: var(--raised);
      }
      input[type="number"] { width: 3.2rem; text-align: center; }
      button[aria-pressed="true"] { background: var(--ink-0); color: var(--paper); border-color: var(--ink-0); }
      @media (forced-colors: active) { button[aria-pressed="true"] { border-width: 3px; text-decoration: underline; } }
    `,
  ];

  constructor() {
    super();
    this.stages = 1;
    this.chosen = 0;
    /** @type {{ on: boolean, own: number, other: number, every: number }} */
    this.turns = { on: false, own: 0, other: 0, every: 2 };
    this.ready = false;
  }

  /** What changes over, null where nothing takes turns. @returns {Element | null} */
  get changer() {
    return this.renderRoot.querySelector(".over");
  }

  render() {
    const { on, every } = this.turns;
    const own = on ? this.turns.own : this.chosen;
    const others = Array.from({ length: this.stages }, (_, stage) => stage).filter((stage) => stage !== own);
    if (!others.length) return nothing;
    // What was chosen before may be this very stage by now, or be gone.
    const other = others.includes(this.turns.other) ? this.turns.other : (others.filter((stage) => stage < own).at(-1) ?? others[0]);
    /** @param {Partial<GbTurns["turns"]>} change */
    const tell = (change) =>
      this.dispatchEvent(new CustomEvent("turns-set", { detail: { on, own, other, every, ...change }, bubbles: true, composed: true }));
    return html`
      <button type="button" aria-pressed=${on ? "true" : "false"} ?disabled=${!this.ready} @click=${() => tell({ on: !on })}>Take turns</button>
      <label>${on ? `of ${name(own)} ` : nothing}with <select aria-label="Take turns with" @change=${(/** @type {Event} */ e) => tell({ other: numberIn(e) })}>
        ${others.map((stage) => html`<option value=${stage} .selected=${live(stage === other)}>${name(stage)}</option>`)}</select></label>
      <label>after <input type="number" inputmode="numeric" min="1" max=${MOST} aria-label="Rounds of each in turn" .value=${live(String(every))}
        @change=${(/** @type {Event} */ e) => tell({ every: Math.min(MOST, Math.max(1, Math.round(numberIn(e)) || 1)) })} />
        ${every === 1 ? "round" : "rounds"}</label>
      ${on
        ? html`<button type="button" class="over" @click=${() => this.dispatchEvent(new CustomEvent("change-over", { bubbles: true, composed: true }))}>
            Change over at the loop point</button><span role="status">Now ${name(this.chosen)}</span>`
        : nothing}`;
  }
}

/** @param {number} stage @returns {string} */
function name(stage) {
  return stage ? `stage ${stage}` : "the base beat";
}

/** @param {Event} event @returns {number} */
function numberIn(event) {
  return Number(/** @type {HTMLInputElement} */ (event.currentTarget).value);
}

customElements.define("gb-turns", GbTurns);
