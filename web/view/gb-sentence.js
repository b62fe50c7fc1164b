/**
 * The chosen stage's variation as a sentence whose words can be changed, with its name, the teacher's note and its
 * place among the variations.
 *
 * A pick is tried first: drawn and heard, kept by Enter or "Keep", taken back by Escape or "Take back". Beginning to
 * change another word keeps what was tried.
 *
 * Events, some with `done` in the detail, to be called with what came of it: "word" {setting, value, done}, "keep" {done},
 * "drop" {done}, "name" {key, name, note, done}, "remove", "move" {to}.
 */

import { LitElement, css, html, nothing } from "lit";
import { keyed } from "lit/directives/keyed.js";
import { inkOf } from "../draw/colours.js";
import { controls, inks } from "./inks.js";
import "./gb-word.js";

/** @typedef {import("../protocol/messages.js").ChoicesReply} Choices */

export class GbSentence extends LitElement {
  static properties = {
    stage: { attribute: false },
    total: { type: Number },
    settings: { attribute: false },
    trying: { type: Boolean },
    locked: { type: Boolean },
    choices: { attribute: false },
    open: { state: true },
    parts: { state: true },
    said: { state: true },
  };

  static styles = [
    inks,
    controls,
    css`
      :host { display: block; }
      .all { display: grid; gap: 0.1rem; }
      h2 { margin: 0; width: max-content; font-size: 0.85rem; font-weight: 600; color: var(--soft); }
      .sentence { margin: 0.1rem 0 0; font-size: clamp(1.15rem, 1rem + 0.6vw, 1.5rem); line-height: 1.35; overflow-wrap: anywhere; }
      .sentence button {
        display: inline; min-height: 2.75rem; min-width: 2.75rem; padding: 0.45rem 0.1rem; border: 0; border-radius: 0.4rem; background: none;
        font-weight: 680; text-align: start; text-decoration: underline; text-decoration-thickness: 0.1em; text-underline-offset: 0.22em; overflow-wrap: anywhere;
      }
      .sentence button:hover { background: var(--sunk); }
      .sentence button[aria-expanded="true"] { background: var(--sunk); text-decoration-style: double; }
      .joined { white-space: nowrap; }
      .joined button { white-space: normal; }
      .unsaid { display: flex; flex-wrap: wrap; align-items: center; gap: 0 0.35rem; margin: 0.1rem 0 0; color: var(--soft); font-size: 0.95rem; }
      .unsaid button { border: 0; background: none; padding: 0.25rem 0.5rem; text-decoration: underline dotted; text-underline-offset: 0.2em; }
      .unsaid button[aria-expanded="true"] { background: var(--sunk); text-decoration-style: double; }
      gb-word { margin: 0.6rem 0 0.25rem; padding: 0.75rem 0 0; border-top: 1px solid var(--rule); }
      .trying { display: flex; flex-wrap: wrap; align-items: center; gap: 0.4rem 0.75rem; min-height: 2.75rem; margin-top: 0.35rem; }
      [role="status"] { margin: 0; color: var(--soft); }
      .hand { display: flex; flex-wrap: wrap; gap: 0.25rem 1.25rem; align-items: center; margin-top: 0.25rem; }
      .hand label { display: flex; align-items: center; gap: 0.5rem; font-size: 0.9rem; color: var(--soft); flex: 1 1 11rem; min-width: 0; max-width: 18rem; }
      .hand label.note { flex: 2 1 18rem; max-width: 40rem; }
      .hand label span { flex: none; }
      .hand input, .hand textarea {
        flex: 1; min-width: 0; padding-inline: 0.2rem; border: 0; border-bottom: 1.5px solid var(--rule-strong); border-radius: 0;
        background: none; color: var(--ink-0); font-size: 1rem;
      }
      .note.said { margin: 0.2rem 0 0; color: var(--soft); font-style: italic; }
      textarea { display: block; resize: vertical; min-height: 2.75rem; padding-block: 0.6rem; line-height: 1.35; font-style: italic; field-sizing: content; max-height: 12rem; }
      .order { display: flex; flex-wrap: wrap; gap: 0.4rem; }
    `,
  ];

  /** @type {string} the setting whose value is tried, "" for anything else */
  #tried = "";
  #asked = 0;
  /** The name and note that are on their way. */
  #sent = "";
  /** Words that the engine has not answered yet. */
  #pending = 0;

  constructor() {
    super();
    /** @type {import("../draw/shapes.js").Stage | null} */ this.stage = null;
    this.total = 1;
    /** @type {import("../protocol/messages.js").SettingInfo[]} */ this.settings = [];
    this.trying = false;
    this.locked = false;
    /** @type {(key: number, setting: string) => Promise<Choices | null>} */ this.choices = async () => null;
    this.open = "";
    /** @type {import("./gb-word.js").Part[]} */ this.parts = [];
    this.said = "";
  }

  /** @param {Map<PropertyKey, unknown>} changed */
  willUpdate(changed) {
    const before = /** @type {import("../draw/shapes.js").Stage | null | undefined} */ (changed.get("stage"));
    if (before && before.key !== this.stage?.key) {
      this.#commit(before);
      this.open = "";
      this.#tried = "";
      this.said = "";
    }
    if (changed.get("trying") && !this.trying) this.#tried = "";
    if (this.trying && changed.get("trying") === false) this.said = "";
  }

  /** Put the keyboard where what was just tried can be kept. */
  async askToKeep() {
    await this.updateComplete;
    this.#button(".trying button")?.focus();
  }

  render() {
    const stage = this.stage;
    if (!stage) return nothing;
    const ink = inkOf(stage.stage);
    const base = stage.stage === 0;
    return html`<div class="all" role="region" aria-label=${base ? "Base beat in words" : "Variation in words"} @keydown=${this.#key}>
      <h2 tabindex="-1">${base ? "Base beat" : html`Variation ${stage.stage} of ${this.total - 1}<span class="unseen">: ${stage.heading}</span>`}</h2>
      ${base ? html`<p class="sentence">Everything grows from this beat.</p>` : this.#sentence(stage, ink)}
      ${this.#trial()}
      ${this.open && this.parts.length
        ? html`<gb-word .label=${this.#label(this.open)} .parts=${this.parts} @value=${this.#value} @done=${() => this.#keep()}
            @leave=${() => this.#drop()}></gb-word>`
        : nothing}
      ${base || this.locked ? nothing : this.#hand(stage)}
      ${this.locked && stage.note ? html`<p class="note said" dir="auto">“${stage.note}”</p>` : nothing}
    </div>`;
  }

  /** @param {import("../draw/shapes.js").Stage} stage @param {number} ink */
  #sentence(stage, ink) {
    if (this.locked) return html`<p class="sentence">${stage.plain}</p>`;
    const said = new Set(stage.sentence.map((word) => word.setting));
    const unsaid = this.settings.filter(({ name, needs }) => !said.has(name) && (!needs || said.has(needs)));
    return html`<p class="sentence">${this.#spoken(stage.sentence, ink)}</p>
      ${unsaid.length
        ? html`<p class="unsaid"><span>Also:</span> ${unsaid.map(({ name, offer }) => this.#word(name, offer, "", offer))}</p>`
        : nothing}`;
  }

  /**
   * The sentence piece by piece; a comma or full stop stays with the word before it.
   * @param {import("../draw/shapes.js").Stage["sentence"]} pieces @param {number} ink
   */
  #spoken(pieces, ink) {
    return pieces.map((piece, i) => {
      const mark = (/** @type {number} */ n) => (pieces[n]?.setting ? "" : (/^[.,;:]+/.exec(pieces[n]?.text ?? "")?.[0] ?? ""));
      if (!piece.setting) return i && pieces[i - 1].setting ? piece.text.slice(mark(i).length) : piece.text;
      const word = this.#word(piece.setting, piece.text, `t${ink}`, piece.text);
      return mark(i + 1) ? html`<span class="joined">${word}${mark(i + 1)}</span>` : word;
    });
  }

  /** What can be done with what is tried. The row is there as soon as a word is open, so that nothing jumps. */
  #trial() {
    const open = this.trying || this.open !== "";
    const text = this.trying ? "Only tried so far: you see it and hear it." : this.open ? "Pick another: you see and hear it before you keep it." : this.said;
    return html`<div class=${open ? "trying" : ""}>
      <p role="status" class=${open || this.said ? "" : "unseen"}>${text}</p>
      ${open
        ? html`<button type="button" class="main" ?disabled=${!this.trying} @click=${() => this.#keep()}>Keep</button>
            <button type="button" @click=${() => this.#drop()}>${this.trying ? "Take back" : "Close"}</button>`
        : nothing}
    </div>`;
  }

  /** @param {string} setting */
  #info(setting) {
    return this.settings.find(({ name }) => name === setting);
  }

  /** @param {string} setting @returns {string} what it is about */
  #label(setting) {
    return this.#info(setting)?.label ?? setting;
  }

  /** @param {string} setting @param {string} text @param {string} ink @param {string} name */
  #word(setting, text, ink, name) {
    const open = this.open === setting;
    return html`<button type="button" class=${ink} data-setting=${setting} aria-expanded=${open ? "true" : "false"}
      aria-label=${`${name}: change ${this.#label(setting)}`} @click=${() => this.#toggle(setting)}>${text}</button>`;
  }

  /** @param {import("../draw/shapes.js").Stage} stage */
  #hand(stage) {
    return keyed(stage.key, html`<div class="hand">
      <label><span>Name</span> <input type="text" name="name" autocomplete="off" dir="auto" .value=${stage.name}
        @change=${this.#named} @keydown=${this.#field} /></label>
      <label class="note"><span>Your note</span> <textarea name="note" rows="1" dir="auto" .value=${stage.note} @change=${this.#named}
        @keydown=${this.#field}></textarea></label>
      <div class="order" role="group" aria-label="Order of the variations">
        <button type="button" ?disabled=${stage.stage <= 1} @click=${() => this.#move(stage.stage - 1)}>Move up</button>
        <button type="button" ?disabled=${stage.stage >= this.total - 1} @click=${() => this.#move(stage.stage + 1)}>Move down</button>
        <button type="button" @click=${this.#remove}>Remove</button>
      </div>
    </div>`);
  }

  /** @param {string} setting */
  async #toggle(setting) {
    if (this.#isTrying && this.#tried !== setting) this.#tell("keep", { done() {} });
    const asked = ++this.#asked;
    if (this.open === setting) {
      this.open = "";
      return;
    }
    const key = this.stage?.key ?? 0;
    this.open = setting;
    this.parts = [];
    const inner = this.#info(setting)?.inner ?? [];
    const names = inner.length ? inner : [setting];
    const found = await Promise.all(names.map((name) => this.choices(key, name)));
    if (asked !== this.#asked) return;
    this.parts = names.flatMap((name, i) => {
      const choices = found[i];
      return choices ? [{ setting: name, choices }] : [];
    });
    if (!this.parts.length) this.open = "";
    await this.updateComplete;
    const word = /** @type {import("./gb-word.js").GbWord | null} */ (this.renderRoot.querySelector("gb-word"));
    await word?.updateComplete;
    word?.focus();
  }

  /** @param {CustomEvent} event */
  #value(event) {
    const { setting: part, value } = event.detail;
    this.parts = this.parts.map((one) => (one.setting === part ? { setting: part, choices: { ...one.choices, value } } : one));
    // A group without the setting that makes it is no group: it goes as a whole.
    const isHead = this.parts.some((one) => one.setting === part && one.choices.head);
    const setting = isHead && value === "" ? part.split(".")[0] : part;
    if (this.#isTrying && this.#tried !== setting) this.#tell("keep", { done() {} });
    this.#tried = setting;
    this.#pending += 1;
    const done = () => {
      this.#pending -= 1;
    };
    this.#tell("word", { setting, value, done });
  }

  /** Something is tried, or is about to be: quick fingers press Enter before the engine has answered. */
  get #isTrying() {
    return this.trying || this.#pending > 0;
  }

  #keep() {
    if (this.#isTrying) this.#tell("keep", { done: (/** @type {boolean} */ done) => (this.said = done ? "Kept." : "") });
    this.#close();
  }

  #drop() {
    if (this.#isTrying) this.#tell("drop", { done: (/** @type {boolean} */ done) => (this.said = done ? "Taken back." : "") });
    this.#close();
  }

  /** Close the open word; the keyboard goes back to where it came from. */
  #close() {
    const setting = this.open;
    this.open = "";
    this.#asked += 1;
    const back = setting ? this.#button(`[data-setting="${setting}"]`) : null;
    if (back) back.focus();
    else /** @type {HTMLElement | null} */ (this.renderRoot.querySelector("h2"))?.focus();
  }

  #named() {
    if (this.stage) this.#commit(this.stage);
  }

  /** Give a stage the name and the note that are written in the fields. @param {import("../draw/shapes.js").Stage} stage */
  #commit(stage) {
    const fields = /** @type {NodeListOf<HTMLInputElement>} */ (this.renderRoot.querySelectorAll(".hand input, .hand textarea"));
    if (fields.length < 2) return;
    const [name, note] = [...fields].map((field) => field.value.trim());
    const sent = JSON.stringify([stage.key, name, note]);
    if ((name === stage.name.trim() && note === stage.note.trim()) || sent === this.#sent) return;
    this.#sent = sent;
    const done = () => {
      this.#sent = "";
    };
    this.#tell("name", { key: stage.key, name, note, done });
  }

  /** Enter commits what is written, Escape takes it back. @param {KeyboardEvent} event */
  #field(event) {
    const field = /** @type {HTMLInputElement} */ (event.currentTarget);
    if (event.key === "Escape") field.value = (field.name === "name" ? this.stage?.name : this.stage?.note) ?? "";
    else if (event.key !== "Enter" || event.shiftKey) return;
    event.preventDefault();
    event.stopPropagation();
    if (event.key === "Enter") this.#named();
  }

  /** @param {number} to */
  #move(to) {
    this.#tell("move", { to });
  }

  #remove() {
    this.#tell("remove");
    /** @type {HTMLElement | null} */ (this.renderRoot.querySelector("h2"))?.focus();
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    if (event.key !== "Escape" || !(this.#isTrying || this.open)) return;
    event.preventDefault();
    event.stopPropagation();
    this.#drop();
  }

  /** @param {string} where @returns {HTMLElement | null} */
  #button(where) {
    return this.renderRoot.querySelector(where);
  }

  /** @param {string} name @param {object} [detail] */
  #tell(name, detail) {
    this.dispatchEvent(new CustomEvent(name, { detail }));
  }
}

customElements.define("gb-sentence", GbSentence);
