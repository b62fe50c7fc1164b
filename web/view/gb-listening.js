/**
 * What else to listen for: only what was added, a click, and playing through the stages.
 *
 * Events: "tempo" with detail {bpm}, "listen" with detail {onlyAdded} or {click}, "through" with detail {on, times, back}.
 */

import { LitElement, css, html } from "lit";
import { controls } from "./inks.js";

/** How often a stage may be played before the next. Our choice. */
const MOST = 16;

export class GbListening extends LitElement {
  static properties = {
    ready: { type: Boolean },
    chosen: { type: Number },
    onlyAdded: { type: Boolean },
    clicks: { type: Boolean },
    through: { attribute: false },
    tempo: { type: Number },
  };

  static styles = [
    controls,
    css`
      :host { display: block; }
      .row { display: flex; flex-wrap: wrap; align-items: center; gap: 0 1.75rem; font-size: 0.95rem; }
      .through { display: flex; flex-wrap: wrap; align-items: center; gap: 0 0.75rem; }
      .through input[type="number"] { width: 3.2rem; text-align: center; }
      .times { display: inline-flex; align-items: center; gap: 0.4rem; min-height: 2.75rem; }
      .tempo { display: none; flex: 1 1 100%; align-items: center; gap: 0.75rem; }
      .tempo input { flex: 1; min-width: 4rem; }
      @media (max-width: 50rem) { .tempo { display: flex; } }
      button[aria-pressed="true"] { background: var(--ink-0); color: var(--paper); border-color: var(--ink-0); }
    `,
  ];

  constructor() {
    super();
    this.ready = false;
    this.chosen = 0;
    this.onlyAdded = false;
    this.clicks = false;
    this.tempo = 100;
    this.through = { on: false, times: 2, back: true };
  }

  render() {
    const { on, times, back } = this.through;
    return html`<div class="row" role="group" aria-label="Listening">
      <label class="tempo">slower, faster <input type="range" min="20" max="300" step="1" .value=${String(this.tempo)}
        aria-label="Tempo" aria-valuetext=${`${this.tempo} bpm`} @input=${(/** @type {Event} */ e) =>
          this.#tell("tempo", { bpm: Number(/** @type {HTMLInputElement} */ (e.currentTarget).value) })} /></label>
      <label class="tick"><input type="checkbox" .checked=${this.onlyAdded} @change=${(/** @type {Event} */ e) =>
        this.#tell("listen", { onlyAdded: checked(e) })} /> only what was added</label>
      <label class="tick"><input type="checkbox" .checked=${this.clicks} @change=${(/** @type {Event} */ e) =>
        this.#tell("listen", { click: checked(e) })} /> click</label>
      <span class="through">
        <button type="button" aria-pressed=${on ? "true" : "false"} ?disabled=${!this.ready}
          @click=${() => this.#tell("through", { ...this.through, on: !on })}>Play through the stages</button>
        <label class="times">each
          <input type="number" inputmode="numeric" min="1" max=${MOST} .value=${String(times)} @change=${this.#times} />
          ${times === 1 ? "time" : "times"}</label>
        <label class="tick"><input type="checkbox" .checked=${back} @change=${(/** @type {Event} */ e) =>
          this.#tell("through", { ...this.through, back: checked(e) })} /> and back to the base</label>
      </span>
    </div>`;
  }

  /** @param {string} name @param {object} detail */
  #tell(name, detail) {
    this.dispatchEvent(new CustomEvent(name, { detail }));
  }

  /** @param {Event} event */
  #times(event) {
    const field = /** @type {HTMLInputElement} */ (event.currentTarget);
    const times = Math.min(MOST, Math.max(1, Math.round(Number(field.value)) || 1));
    field.value = String(times);
    this.#tell("through", { ...this.through, times });
  }
}

/** @param {Event} event @returns {boolean} */
function checked(event) {
  return /** @type {HTMLInputElement} */ (event.currentTarget).checked;
}

customElements.define("gb-listening", GbListening);
