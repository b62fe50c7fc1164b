/**
 * One word of a sentence while it is changed: what it can be, as native controls.
 *
 * A word has one setting, or several (the settings of a group). Each is a list of which one or many are picked;
 * where the engine takes more than the list holds, it may be written. Nothing is kept here: every pick is told, and comes
 * back in `parts`.
 *
 * Events: "value" with detail {setting, value}; "" is the default. "done" (Enter), "leave" (Escape).
 */

import { LitElement, css, html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { controls } from "./inks.js";

/** @typedef {import("../protocol/messages.js").ChoicesReply} Choices */
/** @typedef {{ setting: string, choices: Choices }} Part */

/** How many lines a list shows where there is room. Our choice. */
const LINES = 6;

export class GbWord extends LitElement {
  static properties = {
    label: { type: String },
    parts: { attribute: false },
  };

  static styles = [
    controls,
    css`
      :host { display: block; }
      .parts { display: flex; flex-wrap: wrap; gap: 0.75rem 1.5rem; align-items: start; }
      .part { display: grid; gap: 0.3rem; flex: 0 1 auto; min-width: min(15rem, 100%); max-width: 100%; }
      .label { font-size: 0.9rem; font-weight: 650; }
      select {
        font: inherit; color: inherit; width: 100%; max-width: 24rem; min-height: 2.75rem; padding: 0.3rem;
        border: 1px solid var(--rule-strong); border-radius: 0.6rem; background: var(--raised);
      }
      option { padding: 0.3rem 0.5rem; border-radius: 0.3rem; }
      option:checked { background: var(--ink-0); color: var(--paper); }
      fieldset { margin: 0; padding: 0; border: 0; min-width: 0; }
      legend { padding: 0; }
      .many { display: flex; flex-wrap: wrap; gap: 0 1.1rem; max-height: 12rem; max-width: 40rem; overflow-y: auto; padding: 0.2rem; }
      form { display: grid; gap: 0.3rem; flex: 1 1 14rem; max-width: 30rem; margin: 0; }
      .written { display: flex; gap: 0.5rem; align-items: start; }
      .written input, .written textarea { flex: 1; min-width: 4rem; }
      textarea { resize: vertical; min-height: 5.5rem; line-height: 1.4; }
      .example { margin: 0; color: var(--soft); font-size: 0.85rem; line-height: 1.35; overflow-wrap: anywhere; }
      @media (forced-colors: active) { option:checked { background: Highlight; color: HighlightText; } }
    `,
  ];

  constructor() {
    super();
    this.label = "";
    /** @type {Part[]} */ this.parts = [];
  }

  /** Put the keyboard on the first control. */
  focus() {
    /** @type {HTMLElement | null} */ (this.renderRoot.querySelector("select, input, textarea"))?.focus();
  }

  render() {
    return html`<div class="parts" role="group" aria-label=${`Change ${this.label}`} @keydown=${this.#key}>
      ${this.parts.map((part) => this.#part(part))}
    </div>`;
  }

  /** @param {Part} part */
  #part(part) {
    const { control, options, free } = part.choices;
    const listed = options.length > 0;
    return html`${listed ? (control === "many" ? this.#many(part) : this.#one(part)) : nothing}
      ${free || !listed ? this.#written(part, listed) : nothing}`;
  }

  /** @param {Part} part */
  #one({ setting, choices }) {
    const none = choices.value === "" && !choices.options.some((option) => option.value === "");
    return html`<label class="part"><span class="label">${choices.label}</span>
      <select name=${setting} size=${Math.min(LINES, Math.max(2, choices.options.length))}
        ?disabled=${this.#isIdle(setting)}
        @change=${(/** @type {Event} */ event) => this.#pick(setting, /** @type {HTMLSelectElement} */ (event.currentTarget).value)}>
        ${choices.head || none ? html`<option value="" .selected=${live(choices.value === "")}>nothing</option>` : nothing}
        ${choices.options.map((option) => html`<option value=${option.value}
          .selected=${live(option.value === choices.value)}>${option.text}</option>`)}
      </select></label>`;
  }

  /** @param {Part} part */
  #many({ setting, choices }) {
    const picked = listOf(choices.value);
    return html`<fieldset class="part"><legend class="label">${choices.label}</legend>
      <div class="many">${choices.options.map((option) => html`<label class="tick">
        <input type="checkbox" value=${option.value} .checked=${live(picked.includes(option.value))}
          @change=${() => this.#tick(setting)} />${option.text}</label>`)}</div></fieldset>`;
  }

  /** @param {Part} part @param {boolean} listed */
  #written({ setting, choices }, listed) {
    const lines = choices.control === "many";
    const label = listed ? `or write ${choices.label}` : choices.label;
    return html`<form @submit=${(/** @type {Event} */ event) => this.#write(event, setting)}>
      <label class="label" for=${`write-${setting}`}>${label}</label>
      <span class="written">
        ${lines
          ? html`<textarea id=${`write-${setting}`} autocomplete="off" spellcheck="false" .value=${listOf(choices.value).join("\n")}></textarea>`
          : html`<input id=${`write-${setting}`} type="text" autocomplete="off" spellcheck="false" autocapitalize="off"
              ?disabled=${this.#isIdle(setting)} .value=${choices.value} />`}
        <button type="submit">Try it</button>
      </span>
      <p class="example">${choices.example}</p>
    </form>`;
  }

  /** A setting of a group that nothing makes yet. @param {string} setting */
  #isIdle(setting) {
    const group = setting.split(".")[0];
    const head = this.parts.find((part) => part.choices.head && part.setting.split(".")[0] === group);
    return head !== undefined && head.setting !== setting && head.choices.value === "";
  }

  /** @param {string} setting @returns {string} */
  #picked(setting) {
    return this.parts.find((part) => part.setting === setting)?.choices.value ?? "";
  }

  /** @param {string} setting @param {string} value */
  #pick(setting, value) {
    this.dispatchEvent(new CustomEvent("value", { detail: { setting, value } }));
  }

  /** @param {string} setting */
  #tick(setting) {
    const boxes = /** @type {NodeListOf<HTMLInputElement>} */ (this.renderRoot.querySelectorAll("input[type=checkbox]"));
    this.#pick(setting, [...boxes].filter((box) => box.checked).map((box) => box.value).join(", "));
  }

  /** @param {Event} event @param {string} setting */
  #write(event, setting) {
    event.preventDefault();
    const form = /** @type {HTMLFormElement} */ (event.currentTarget);
    const field = /** @type {HTMLInputElement | HTMLTextAreaElement} */ (form.querySelector("input, textarea"));
    const value = listOf(field.value.replaceAll("\n", ",")).join(", ");
    if (value === listOf(this.#picked(setting)).join(", ")) this.#tell("done");
    else this.#pick(setting, value);
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    const target = /** @type {Element} */ (event.composedPath()[0]);
    if (event.key === "Escape") this.#tell("leave");
    else if (event.key === "Enter" && target.matches("select, input[type=checkbox]")) this.#tell("done");
    else return;
    event.preventDefault();
    event.stopPropagation();
  }

  /** @param {string} name */
  #tell(name) {
    this.dispatchEvent(new CustomEvent(name));
  }
}

/** @param {string} value @returns {string[]} */
function listOf(value) {
  return value.split(",").map((part) => part.trim()).filter(Boolean);
}

customElements.define("gb-word", GbWord);
