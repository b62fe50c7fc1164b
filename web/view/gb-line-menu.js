/**
 * The small menu of one line, and the list of lines that can be added.
 *
 * `open(box, surface)` opens the menu of a line; with no surface, the list. Events: "hear" with detail {muted, soloed} (the
 * lines that are to be silent, and those that alone are to be heard), "columns" with detail {surface, columns}, "line" with detail {surface, shown}, "closed".
 */

import { LitElement, css, html, nothing } from "lit";
import { openBeside } from "./beside.js";
import { controls } from "./inks.js";

export class GbLineMenu extends LitElement {
  static properties = {
    kit: { attribute: false },
    shown: { attribute: false },
    silent: { attribute: false },
    muted: { attribute: false },
    soloed: { attribute: false },
    fits: { attribute: false },
    columnsOf: { attribute: false },
    surface: { state: true },
  };

  static styles = [controls, css`
    .menu {
      position: fixed; inset: auto; margin: 0; width: min(20rem, calc(100vw - 1rem)); max-height: min(28rem, calc(100dvh - 1rem)); overflow: auto;
      padding: 0.5rem 0.9rem 0.9rem; border: 1px solid var(--rule); border-radius: 1rem; background: var(--paper); color: var(--ink-0); box-shadow: var(--lift);
    }
    .top { display: flex; align-items: center; justify-content: space-between; gap: 0.5rem; }
    h2 { margin: 0; font-size: 1rem; line-height: 1.25; }
    p { margin: 0.4rem 0 0; font-size: 0.9rem; color: var(--soft); }
    .words { display: flex; flex-wrap: wrap; gap: 0.4rem; margin-top: 0.5rem; }
    .words button { padding: 0.2rem 0.8rem; }
    label.tick { display: flex; }
    .columns { display: flex; flex-wrap: wrap; align-items: center; gap: 0.2rem 0.6rem; margin-top: 0.3rem; }
    select { min-height: 2.75rem; }
  `];

  constructor() {
    super();
    /** @type {string[]} all surfaces, from the top line */ this.kit = [];
    /** @type {string[]} the lines of the chosen stage */ this.shown = [];
    /** @type {string[]} those without a stroke in the base beat, which can be taken away */ this.silent = [];
    /** @type {string[]} */ this.muted = [];
    /** @type {string[]} */ this.soloed = [];
    /** @type {string[]} the columns that a bar holds */ this.fits = [];
    /** @type {(surface: string) => string} */ this.columnsOf = () => "";
    this.surface = "";
  }

  /** Open beside a box of the window. @param {DOMRect} box @param {string} [surface] */
  async open(box, surface = "") {
    this.surface = surface;
    await this.updateComplete;
    if (!this.#menu) return;
    openBeside(this.#menu, box);
    /** @type {HTMLElement | null} */ (this.renderRoot.querySelector(surface ? "input" : ".words button"))?.focus();
  }

  /** Close it. */
  close() {
    if (this.#menu?.matches(":popover-open")) this.#menu.hidePopover();
  }

  /** @returns {HTMLElement | null} */
  get #menu() {
    return this.renderRoot.querySelector(".menu");
  }

  render() {
    return html`<div class="menu" popover role="dialog" aria-labelledby="of" @toggle=${this.#toggled}>
      <div class="top"><h2 id="of">${this.surface ? `The ${this.surface} line` : "Add a line"}</h2>
        <button type="button" @click=${this.close}>Close</button></div>
      ${this.surface ? this.#line(this.surface) : this.#list()}
    </div>`;
  }

  /** @param {string} surface */
  #line(surface) {
    const away = this.silent.includes(surface);
    return html`
      <label class="tick"><input type="checkbox" .checked=${this.muted.includes(surface)} @change=${() => this.#hear("muted", surface)} /> silent</label>
      <label class="tick"><input type="checkbox" .checked=${this.soloed.includes(surface)} @change=${() => this.#hear("soloed", surface)} /> the only one heard</label>
      <label class="columns">columns of this line
        <select @change=${(/** @type {Event} */ e) => this.#columns(surface, /** @type {HTMLSelectElement} */ (e.currentTarget).value)}>
          ${this.fits.map((name) => html`<option ?selected=${name === this.columnsOf(surface)}>${name}</option>`)}
        </select></label>
      ${away
        ? html`<div class="words"><button type="button" @click=${() => this.#show(surface, false)}>Take the line away</button></div>`
        : html`<p>It has strokes in the base beat. Without them the line can be taken away.</p>`}`;
  }

  #list() {
    const more = this.kit.filter((surface) => !this.shown.includes(surface));
    return more.length
      ? html`<div class="words">${more.map((surface) => html`<button type="button" @click=${() => this.#show(surface, true)}>${surface}</button>`)}</div>`
      : nothing;
  }

  /** @param {string} surface @param {string} columns */
  #columns(surface, columns) {
    this.dispatchEvent(new CustomEvent("columns", { detail: { surface, columns } }));
    this.requestUpdate();
  }

  /** @param {"muted" | "soloed"} which @param {string} surface */
  #hear(which, surface) {
    const now = this[which];
    const then = now.includes(surface) ? now.filter((one) => one !== surface) : [...now, surface];
    this.dispatchEvent(new CustomEvent("hear", { detail: { muted: this.muted, soloed: this.soloed, [which]: then } }));
  }

  /** @param {string} surface @param {boolean} shown */
  #show(surface, shown) {
    this.close();
    this.dispatchEvent(new CustomEvent("line", { detail: { surface, shown } }));
  }

  /** @param {ToggleEvent} event */
  #toggled(event) {
    if (event.newState === "closed") this.dispatchEvent(new CustomEvent("closed"));
  }
}

customElements.define("gb-line-menu", GbLineMenu);
