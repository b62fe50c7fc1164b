/**
 * Sheets for a class: which one, of what, a preview, and the printer; for hearing also the buttons that play the beats.
 *
 * `ask` puts the question to the engine, `play(stage, times)` sounds a stage without showing which (0 times: stops).
 * What is printed stands outside the dialog and is seen by printers only (see paper-look and style.css), for a dialog is
 * as high as the screen. `show()` opens the dialog.
 */

import { LitElement, html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { controls } from "./inks.js";
import "./gb-paper.js";
import { sheetLook } from "./sheet-look.js";
import { unlessTyping } from "./unless-typing.js";

/** @typedef {import("../protocol/messages.js").SheetReply} Sheet */

/** Width in pixels of what is printed: A4 and Letter upright with the margins of style.css both hold it. */
const PAPER = 680;
const MOST_ORDER = 9999;
/** @type {[Sheet["sheet"], string, string][]} */
const SHEETS = [
  ["turns", "Every place in turn", "one figure, begun on every place"],
  ["count", "Write the count", "a beat without its counts, to be filled in"],
  ["hear", "Which stage do you hear?", "you play, the class writes the letters"],
];

export class GbSheet extends LitElement {
  static properties = {
    stages: { attribute: false },
    chosen: { type: Number },
    address: { type: String },
    sounding: { type: Boolean },
    ask: { attribute: false, hasChanged: () => false },
    play: { attribute: false, hasChanged: () => false },
    open: { type: Boolean, reflect: true },
    name: { state: true },
    stage: { state: true },
    of: { state: true },
    order: { state: true },
    answers: { state: true },
    sheet: { state: true },
    trouble: { state: true },
    playing: { state: true },
    room: { state: true },
  };

  static styles = [controls, sheetLook];

  #asked = 0;
  #watch = new ResizeObserver((entries) => {
    const { width } = entries[entries.length - 1].contentRect;
    if (width) this.room = Math.min(PAPER, Math.floor(width));
  });

  constructor() {
    super();
    /** @type {import("../draw/shapes.js").Stage[]} */ this.stages = [];
    this.chosen = 0;
    /** of the page with the beat, "" where it has no link */ this.address = "";
    this.sounding = false;
    /** @type {(question: { sheet: string, stage: number, of: string, seed: number }) => Promise<any>} */ this.ask = async () => ({});
    /** @type {(stage: number, times: number) => Promise<boolean>} */ this.play = async () => false;
    this.open = false;
    /** @type {Sheet["sheet"]} */ this.name = "turns";
    this.stage = 0;
    /** what the sheet is made of, "" for the engine's first choice */ this.of = "";
    this.order = 1;
    /** whether the answers are printed too */ this.answers = true;
    /** @type {Sheet | null} */ this.sheet = null;
    this.trouble = "";
    /** which one sounds, from 0; -1 for none */ this.playing = -1;
    this.room = PAPER;
  }

  disconnectedCallback() {
    super.disconnectedCallback();
    this.#watch.disconnect();
  }

  /** Open the dialog, at the chosen stage. */
  show() {
    this.stage = this.chosen;
    this.of = "";
    this.sheet = null;
    this.open = true;
    this.#dialog?.showModal();
    this.#fetch();
  }

  /** @param {Map<PropertyKey, unknown>} changed */
  willUpdate(changed) {
    if (changed.has("sounding") && !this.sounding) this.playing = -1;
  }

  updated() {
    const preview = this.renderRoot.querySelector(".preview");
    if (preview) this.#watch.observe(preview);
    else this.#watch.disconnect();
  }

  render() {
    const { sheet, open } = this;
    return html`<dialog aria-labelledby="title" @click=${this.#outside} @close=${this.#closed}>
        <div class="inside">
          <div class="top"><h2 id="title">Sheets for a class</h2><button type="button" @click=${this.#close}>Close</button></div>
          ${open ? html`${this.#choice()}
            <p class="trouble" role="status">${this.trouble}</p>
            ${sheet ? html`${this.#deeds(sheet)}
              <div class="paper" role="region" aria-label="Preview"><div class="preview"><gb-paper shows="students" .sheet=${sheet} .room=${this.room}
                .address=${this.address} .order=${this.order}></gb-paper></div></div>
              ${sheet.sheet === "turns" ? nothing : html`<details><summary>The answers</summary>
                <div class="paper"><gb-paper shows="answers" .sheet=${sheet} .room=${this.room} .address=${this.address} .order=${this.order}></gb-paper></div></details>`}` : nothing}` : nothing}
        </div>
      </dialog>
      ${open && sheet ? html`<gb-paper class="printed" .shows=${this.answers ? "both" : "students"} .sheet=${sheet} .room=${PAPER} .address=${this.address}
        .order=${this.order}></gb-paper>` : nothing}`;
  }

  #choice() {
    const { name, sheet } = this;
    return html`<fieldset><legend class="unseen">Which sheet</legend>
        ${SHEETS.map(([value, heading, about]) => html`<label class="tick"><input type="radio" name="sheet" value=${value}
          .checked=${live(value === name)} @change=${() => this.#change({ name: value, of: "" })} /> <span><b>${heading}</b> ${about}</span></label>`)}
      </fieldset>
      <div class="settings">
        ${name === "hear"
          ? html`<label>Order number <input type="number" name="order" min="1" max=${MOST_ORDER} step="1" .value=${unlessTyping(String(this.order))} @change=${this.#order} /></label>
            <button type="button" @click=${() => this.#change({ order: (this.order % MOST_ORDER) + 1 })}>Another order</button>`
          : html`<label>Stage <select name="stage" @change=${(/** @type {Event} */ e) => this.#change({ stage: Number(valueOf(e)), of: "" })}>
              ${this.stages.map(({ stage, heading }) => html`<option value=${stage} ?selected=${stage === this.stage}>${stage}. ${heading}</option>`)}</select></label>
            ${sheet && sheet.sheet === name && sheet.choices.length > 1
              ? html`<label>${name === "turns" ? "What is turned" : "What is counted"} <select name="of" @change=${(/** @type {Event} */ e) => this.#change({ of: valueOf(e) })}>
                ${sheet.choices.map(({ value, text }) => html`<option value=${value} ?selected=${value === sheet.of}>${text}</option>`)}</select></label>` : nothing}`}
      </div>`;
  }

  /** @param {Sheet} sheet */
  #deeds(sheet) {
    return html`<div class="deeds">
        <button type="button" class="main" @click=${() => print()}>Print</button>
        ${sheet.sheet === "turns" ? nothing : html`<label class="tick"><input type="checkbox" .checked=${live(this.answers)}
          @change=${(/** @type {Event} */ e) => { this.answers = /** @type {HTMLInputElement} */ (e.currentTarget).checked; }} /> with the answers on a page of their own</label>`}
      </div>
      ${sheet.plays.length ? html`<section class="plays" aria-labelledby="plays"><h3 id="plays">Play them to the class</h3>
        <p>In this order. Nothing here shows which stage sounds.</p>
        <div class="deeds">${sheet.plays.map((play, at) => html`<button type="button" class=${at === this.playing ? "now" : ""}
            @click=${() => this.#sound(at, play)}>Play ${at + 1}</button>`)}
          <button type="button" ?disabled=${!this.sounding} @click=${() => this.play(0, 0)}>Stop</button></div>
        <p role="status">${this.playing >= 0 ? `Number ${this.playing + 1} sounds.` : ""}</p></section>` : nothing}`;
  }

  /** @param {number} at @param {Sheet["plays"][number]} play */
  async #sound(at, { stage, passes }) {
    if (await this.play(stage, passes)) this.playing = at;
  }

  /** @param {Partial<Pick<GbSheet, "name" | "stage" | "of" | "order">>} change */
  #change(change) {
    Object.assign(this, change);
    this.#hush();
    this.#fetch();
  }

  /** @param {Event} event */
  #order(event) {
    const number = Math.round(Number(valueOf(event)));
    const order = Math.min(MOST_ORDER, Math.max(1, number || 1));
    /** @type {HTMLInputElement} */ (event.currentTarget).value = String(order);
    this.#change({ order });
  }

  async #fetch() {
    const asked = (this.#asked += 1);
    const { name, stage, of, order } = this;
    const reply = await this.ask({ sheet: name, stage, of, seed: order });
    if (asked !== this.#asked || !this.open) return; // something else was chosen meanwhile
    this.sheet = reply.items ? reply : null;
    this.trouble = reply.items ? "" : asSentence(reply.trouble || "The engine has no answer to that.");
  }

  #hush() {
    if (this.playing >= 0) this.play(0, 0);
  }

  /** @returns {HTMLDialogElement | null} */
  get #dialog() {
    return this.renderRoot.querySelector("dialog");
  }

  #close() {
    this.#dialog?.close();
  }

  #closed() {
    this.open = false;
    this.#hush();
  }

  /** @param {MouseEvent} event */
  #outside(event) {
    if (event.target === this.#dialog) this.#close();
  }
}

/** @param {Event} event @returns {string} */
function valueOf(event) {
  return /** @type {HTMLInputElement | HTMLSelectElement} */ (event.currentTarget).value;
}

/** The engine's texts also stand after a name; alone they begin with a capital and end with a stop. @param {string} text @returns {string} */
function asSentence(text) {
  const begun = text[0].toUpperCase() + text.slice(1);
  return /[.!?…]$/.test(begun) ? begun : `${begun}.`;
}

customElements.define("gb-sheet", GbSheet);
