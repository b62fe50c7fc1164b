/**
 * The feel of the base beat: its swing, and what of it is early or late. No note moves on paper.
 *
 * Native fields; each is sent when it is left or Enter is pressed, and shows again what holds if it was refused. What is
 * early or late is said of one surface at a time; of everything, it takes the place of what was said of others.
 * Event: "edit" with detail {change, done}.
 */

import { LitElement, css, html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { controls } from "./inks.js";

/** @typedef {import("../draw/shapes.js").View} View */

/** Swings that are offered; any other can be written. */
const SWINGS = ["straight", "eighths 3:2", "eighths 2:1", "eighths 3:1", "sixteenths 3:2", "sixteenths 2:1", "sixteenths 3:1"];
const OTHER = "another";
const ALL = "all";
/** Milliseconds; the engine has the same. */
const MOST = 100;

export class GbFeel extends LitElement {
  static properties = {
    view: { attribute: false },
    /** whose push is shown */
    who: { state: true },
    /** whether a swing is written that is not offered */
    writing: { state: true },
  };

  static styles = [controls, css`
    :host { display: block; flex: 1 1 100%; min-width: 0; }
    fieldset { display: flex; flex-wrap: wrap; gap: 0.6rem 1rem; margin: 0; padding: 0; border: 0; min-width: 0; }
    legend { padding: 0; margin-bottom: 0.3rem; font-size: 0.95rem; }
    label { display: grid; gap: 0.15rem; font-size: 0.85rem; color: var(--soft); align-content: start; min-width: 0; }
    label > * { color: var(--ink-0); font-size: 1rem; }
    .pair { display: flex; flex-wrap: wrap; align-items: end; gap: 0.4rem; min-width: 0; }
    input[type="text"] { width: 10rem; max-width: 100%; }
    input[type="number"] { width: 4.5rem; }
    select {
      min-height: 2.75rem; max-width: 100%; padding: 0.25rem 0.5rem; border: 1px solid var(--rule-strong); border-radius: 0.4rem;
      background: var(--raised); color: inherit; font: inherit; font-size: 1rem;
    }
  `];

  constructor() {
    super();
    /** @type {View | null} */ this.view = null;
    this.who = ALL;
    this.writing = false;
  }

  render() {
    const view = this.view;
    if (!view) return nothing;
    const offered = SWINGS.includes(view.swing) && !this.writing;
    const option = (/** @type {string} */ value, /** @type {string} */ text, /** @type {string} */ chosen) =>
      html`<option value=${value} .selected=${live(value === chosen)}>${text}</option>`;
    const lanes = view.stages[0]?.lanes ?? [];
    const names = [...new Set([...lanes, ...Object.keys(view.pushes).filter((name) => name !== ALL)])];
    const who = names.includes(this.who) ? this.who : ALL;
    const ms = view.pushes[who] ?? view.pushes[ALL] ?? 0;
    const when = ms < 0 ? "early" : "late";
    return html`<fieldset>
      <legend>Feel: ${view.feel}</legend>
      <label><span>Swing, long : short</span><span class="pair">
        <select name="swing" aria-label="Swing" @change=${this.#swing}>
          ${[...SWINGS, OTHER].map((swing) => option(swing, swing.replace(":", " : "), offered ? view.swing : OTHER))}
        </select>
        ${offered ? nothing : html`<input type="text" name="written" aria-label="Swing, such as sixteenths 4:3" autocomplete="off"
          .value=${live(view.swing)} @change=${this.#swing} />`}
      </span></label>
      <span class="pair">
        <label><span>Early or late</span>
          <select name="who" aria-label="What is early or late" @change=${(/** @type {Event} */ e) => (this.who = field(e).value)}>
            ${option(ALL, "everything", who)}${names.map((name) => option(name, view.surfaces[name]?.label ?? name, who))}
          </select></label>
        <label><span>by ms</span>
          <input type="number" name="ms" min="0" max=${MOST} step="1" inputmode="numeric"
            .value=${live(String(Math.abs(ms)))} @change=${() => this.#push(who)} /></label>
        <select name="when" aria-label="Early or late" @change=${() => this.#push(who)}>
          ${["late", "early"].map((word) => option(word, word, when))}
        </select>
      </span>
    </fieldset>`;
  }

  /** @param {Event} event */
  #swing(event) {
    const swing = field(event).value.trim();
    this.writing = swing === OTHER;
    if (!this.writing && swing) this.#edit({ swing });
  }

  /** @param {string} surface */
  #push(surface) {
    const value = (/** @type {string} */ name) => /** @type {HTMLInputElement} */ (this.renderRoot.querySelector(`[name="${name}"]`)).value;
    const ms = Math.round(Number(value("ms")));
    if (Number.isFinite(ms) && ms >= 0) this.#edit({ surface, push: `${ms} ms ${value("when")}` });
    else this.requestUpdate();
  }

  /** @param {object} change */
  #edit(change) {
    const done = () => this.requestUpdate(); // shows what holds, also where it was refused
    this.dispatchEvent(new CustomEvent("edit", { detail: { change: { ask: "frame", ...change }, done } }));
  }
}

/** @param {Event} event @returns {HTMLInputElement} */
function field(event) {
  return /** @type {HTMLInputElement} */ (event.currentTarget);
}

customElements.define("gb-feel", GbFeel);
