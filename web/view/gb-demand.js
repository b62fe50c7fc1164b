/**
 * What a stage asks of whoever plays it, part by part: a bar as long as it asks much of that, a thin mark where the stage
 * before it stood, and words. There is no sum: a beat is not better for asking more.
 */

import { LitElement, css, html, nothing } from "lit";

/** Length of a whole bar, and where it begins, in pixels. */
const WIDE = 84;
const FROM = 1.5;

export class GbDemand extends LitElement {
  static properties = { parts: { attribute: false } };

  static styles = css`
    :host { display: block; container-type: inline-size; }
    ul { list-style: none; margin: 0; padding: 0; display: grid; gap: 0.3rem; }
    li { display: grid; grid-template-columns: 6.8rem 5.6rem minmax(0, 1fr); gap: 0 0.75rem; align-items: baseline; line-height: 1.3; font-size: 0.92rem; }
    svg { align-self: center; overflow: visible; }
    .ground { stroke: var(--rule-strong); stroke-width: 1; }
    .value { stroke: var(--ink-0); stroke-width: 6; }
    .before { stroke: var(--ink-0); stroke-width: 1.5; }
    .was { stroke: var(--behind, var(--raised)); stroke-width: 4; }
    span { overflow-wrap: anywhere; }
    .text { color: var(--soft); }
    p { margin: 0.5rem 0 0; color: var(--soft); font-size: 0.85rem; }
    @container (max-width: 34rem) { li { grid-template-columns: 7rem minmax(0, 1fr); } .text { grid-column: 1 / -1; padding-bottom: 0.35rem; } }
    @media (forced-colors: active) { .ground, .value, .before { stroke: CanvasText; } .was { stroke: Canvas; } }
  `;

  constructor() {
    super();
    /** @type {import("../protocol/messages.js").DemandInfo[]} */ this.parts = [];
  }

  render() {
    if (!this.parts.length) return nothing;
    const compared = this.parts.some(({ before }) => before !== null);
    return html`<ul>${this.parts.map(({ part, value, before, text }) => html`<li>
        <span>${part}</span>
        <svg width=${WIDE + 2 * FROM} height="14" role="img" aria-label=${say(value, before)}>
          <path class="ground" d=${`M${FROM} 10.500H${FROM + WIDE}`}></path>
          <path class="value" d=${`M${FROM} 7H${x(value)}`}></path>
          <path class="was" d=${before === null ? "M0 0" : `M${x(before)} 1V13`}></path>
          <path class="before" d=${before === null ? "M0 0" : `M${x(before)} 1V13`}></path>
        </svg>
        <span class="text">${text}</span>
      </li>`)}</ul>
      ${compared ? html`<p>The upright line is where the stage before stands.</p>` : nothing}`;
  }
}

/** @param {number} value of 100 @returns {number} */
function x(value) {
  return Math.round((FROM + (WIDE * Math.min(100, Math.max(0, value))) / 100) * 100) / 100;
}

/** @param {number} value @param {number | null} before @returns {string} */
function say(value, before) {
  return before === null ? `${value} of 100` : `${value} of 100, in the stage before ${before}`;
}

customElements.define("gb-demand", GbDemand);
