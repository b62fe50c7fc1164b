/**
 * What is seen while the engine starts: how far it is, in words, and if asked for the outline of a beat to come.
 */

import { LitElement, css, html, nothing } from "lit";

/** @type {Record<string, string>} */
const WORDS = {
  runtime: "fetching Python",
  library: "unpacking its library",
  engine: "loading the drummer's words",
  ready: "ready",
};

export class GbStarting extends LitElement {
  static properties = { stage: { type: String }, done: { type: Number }, outline: { type: Boolean }, again: { type: Boolean } };

  static styles = css`
    :host { display: block; }
    .row { display: flex; flex-wrap: wrap; align-items: center; gap: 0.25rem 0.9rem; margin: 0 0 0.75rem; color: var(--soft); font-size: 0.95rem; }
    progress { accent-color: var(--ink-1); width: 9rem; height: 0.7rem; }
    svg { display: block; width: 100%; height: 22rem; }
    path { stroke: var(--rule); stroke-width: 1; fill: none; vector-effect: non-scaling-stroke; }
    .soft { stroke: var(--strand); stroke-width: 1; }
  `;

  constructor() {
    super();
    this.stage = "runtime";
    this.done = 0;
    this.outline = false;
    this.again = false;
  }

  render() {
    const what = this.again ? "The engine stopped and starts again" : "The engine is starting";
    return html`<div class="row">
        <span role="status">${what}: ${WORDS[this.stage] ?? this.stage} …</span>
        <progress max="1" .value=${this.done} aria-label="Progress of the start"></progress>
      </div>
      ${this.outline ? outline : nothing}`;
  }
}

/** Empty lines where the stages will stand. */
const outline = html`<svg viewBox="0 0 640 300" preserveAspectRatio="none" aria-hidden="true">
  <path d="M90 30H630M90 50H630M90 70H630M90 130H630M90 150H630M90 170H630M90 230H630M90 250H630M90 270H630"></path>
  <path class="soft" d="M104 78V122M170 78V122M236 78V122M302 78V122M368 78V122M434 78V122M500 78V122M566 78V122"></path>
  <path class="soft" d="M104 178V222M170 178V222M236 178V222M302 178V222M368 178V222M434 178V222M500 178V222M566 178V222"></path>
</svg>`;

customElements.define("gb-starting", GbStarting);
