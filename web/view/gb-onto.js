/**
 * The variations of this beat on another one: pick it, and see side by side what carried over and what found nothing.
 *
 * `carry(text)` and `carryFile(file)` ask the engine; `trouble` in the answer is told here. Nothing becomes the page's
 * beat until "Show it". Text from links is only ever shown as text.
 *
 * Events: "take" with detail {document}. `show()` opens the dialog.
 */

import { LitElement, html, nothing } from "lit";
import { layAxes } from "../draw/axis.js";
import "./gb-lines.js";
import { controls } from "./inks.js";
import { ontoLook } from "./onto-look.js";

/** @typedef {import("../draw/shapes.js").View} View @typedef {import("../protocol/messages.js").CarryReply} Carried */
/** @typedef {import("../protocol/messages.js").CarriedInfo} Row @typedef {import("../draw/axis.js").Axis} Axis */

/** Narrowest column of the small drawings, in pixels; pillars are no slimmer. Our choice. */
const SMALL = 6;
/** Width in rem of the lines' names beside a small drawing. */
const LABELS = 5;

export class GbOnto extends LitElement {
  static properties = {
    view: { attribute: false },
    beats: { attribute: false },
    carry: { attribute: false, hasChanged: () => false },
    carryFile: { attribute: false, hasChanged: () => false },
    carried: { state: true },
    trouble: { state: true },
    busy: { state: true },
    width: { state: true },
  };

  static styles = [controls, ontoLook];

  #asked = 0;
  #watch = new ResizeObserver((entries) => {
    const { width } = entries[entries.length - 1].contentRect;
    if (width) this.width = Math.floor(width);
  });

  constructor() {
    super();
    /** @type {View | null} */ this.view = null;
    /** @type {{ title: string, about: string, link: string }[]} */ this.beats = [];
    /** @type {(text: string) => Promise<any>} */ this.carry = async () => ({});
    /** @type {(file: File) => Promise<any>} */ this.carryFile = async () => ({});
    /** @type {Carried | null} */ this.carried = null;
    this.trouble = "";
    this.busy = false;
    /** Pixels that a picture has. */ this.width = 0;
  }

  disconnectedCallback() {
    super.disconnectedCallback();
    this.#watch.disconnect();
  }

  /** Open the dialog, at the choice of a beat. */
  show() {
    this.carried = null;
    this.trouble = "";
    this.#dialog?.showModal();
  }

  render() {
    return html`<dialog aria-labelledby="title" @click=${this.#outside} @close=${this.#forget}>
      <div class="inside">
        <div class="top"><h2 id="title" tabindex="-1">${this.carried ? this.#title(this.carried) : "Try these variations on another beat"}</h2>
          <button type="button" @click=${this.#close}>Close</button></div>
        ${this.carried ? this.#report(this.carried) : this.#choice()}
      </div>
    </dialog>`;
  }

  /** @param {Carried} carried */
  #title({ there }) {
    return html`On <span dir="auto">${there || "the other beat"}</span>`;
  }

  #choice() {
    return html`<p>The variations mean strokes by what they do, so they can be put on any beat. First you see what becomes of each;
        your beat stays as it is until you say so.</p>
      <p class="trouble" role="alert">${this.trouble}</p>
      <form @submit=${this.#paste}>
        <label class="grow">A link, or the text of a groove file, tablature or a score <textarea name="onto" spellcheck="false" autocomplete="off"></textarea></label>
        <button type="submit" ?disabled=${this.busy}>Try this one</button>
      </form>
      <form><label class="grow">Or a file: a groove file, or MIDI, a score or tablature with drums, of which the first bars with strokes are taken
        <input type="file" accept=".toml,.mid,.midi,.musicxml,.xml,.mxl,.txt,.tab,audio/midi" @change=${this.#file} /></label></form>
      ${this.beats.length
        ? html`<h3>Common beats</h3><ul>${this.beats.map((beat) => html`<li><button type="button" ?disabled=${this.busy}
            @click=${() => this.#ask(this.carry(beat.link))}><b dir="auto">${beat.title}</b><span>${beat.about}</span></button></li>`)}</ul>`
        : nothing}`;
  }

  /** @param {Carried} carried */
  #report(carried) {
    const here = carried.here || "this beat";
    const there = carried.there || "the other beat";
    return html`<p class="told" role="status">${carried.told}</p>
      <div class="ways"><button type="button" class="main" @click=${this.#take}>Show it</button>
        <button type="button" @click=${this.#back}>Back</button>
        <span>Undo brings ${here === "this beat" ? here : html`<bdi>${here}</bdi>`} back.</span></div>
      <table role="table" aria-labelledby="title">
        <thead role="rowgroup"><tr role="row">
          <th role="columnheader" scope="col">Variation</th>
          <th role="columnheader" scope="col" dir="auto">${here}</th>
          <th role="columnheader" scope="col" dir="auto">${there}</th></tr></thead>
        <tbody role="rowgroup">
          <tr role="row"><th role="rowheader" scope="row"><b>0 Base beat</b></th>
            ${this.#cell(this.view, 0, here, "")}${this.#cell(carried.view, 0, there, "", true)}</tr>
          ${carried.rows.map((one) => this.#row(one, carried, here, there))}
        </tbody>
      </table>`;
  }

  /** @param {Row} row @param {Carried} carried @param {string} here @param {string} there */
  #row(row, carried, here, there) {
    const found = row.verdict === "carried over" ? "carried" : row.verdict === "found nothing" ? "missed" : "";
    return html`<tr role="row" data-stage=${row.stage} data-verdict=${row.verdict}>
      <th role="rowheader" scope="row"><b>${row.stage} <span dir="auto">${row.heading}</span></b>
        <span class="plain" dir="auto">${row.plain}</span>
        <span class="verdict ${found}">${row.verdict}</span>${row.why ? html` <span class="why">${row.why}</span>` : nothing}</th>
      ${this.#cell(this.view, row.stage, here, row.here)}${this.#cell(carried.view, row.stage, there, row.there)}</tr>`;
  }

  /** One stage, small. @param {View | null} view @param {number} number @param {string} title @param {string} summary @param {boolean} [measured] */
  #cell(view, number, title, summary, measured = false) {
    const stage = view?.stages[number];
    return html`<td role="cell"><span class="whose" aria-hidden="true" dir="auto">${title}</span>
      <div class="picture" data-measured=${measured ? "yes" : nothing}>${view && stage && this.width
        ? html`<gb-lines .beat=${{ ...stage, stage: 0 }} .axis=${this.#axisOf(view, stage)} .grid=${view.grid} .lanes=${stage.lanes}
            .labels=${stage.lanes.map((surface) => view.surfaces[surface].label)}></gb-lines>`
        : nothing}</div>
      ${summary ? html`<span class="summary">${summary}</span>` : nothing}</td>`;
  }

  /** A stage may be longer than its base beat. @param {View} view @param {import("../draw/shapes.js").Stage} stage @returns {Axis} */
  #axisOf(view, stage) {
    const rem = parseFloat(getComputedStyle(document.documentElement).fontSize) || 16;
    return layAxes(view, this.width - LABELS * rem, [], SMALL)[stage.frame];
  }

  updated() {
    const picture = this.renderRoot.querySelector("[data-measured]");
    if (picture) this.#watch.observe(picture);
    else this.#watch.disconnect();
  }

  /** @param {Promise<any>} answer */
  async #ask(answer) {
    const asked = (this.#asked += 1);
    this.busy = true;
    const reply = await answer;
    if (asked !== this.#asked) return; // the dialog was left, or something else was picked
    this.busy = false;
    this.trouble = reply.rows ? "" : asSentence(reply.trouble || "The engine has no answer to that.");
    if (!reply.rows) return;
    this.carried = reply;
    await this.updateComplete;
    /** @type {HTMLElement | null} */ (this.renderRoot.querySelector(".ways .main"))?.focus();
  }

  /** @param {SubmitEvent} event */
  #paste(event) {
    event.preventDefault();
    const field = /** @type {HTMLTextAreaElement} */ (this.renderRoot.querySelector("textarea"));
    const text = field.value.trim();
    if (!text) return field.focus();
    this.#ask(this.carry(text));
  }

  /** @param {Event} event */
  #file(event) {
    const field = /** @type {HTMLInputElement} */ (event.currentTarget);
    const file = field.files?.[0];
    if (file) this.#ask(this.carryFile(file));
    field.value = "";
  }

  #take() {
    const document = this.carried?.view.document;
    this.#close();
    if (document) this.dispatchEvent(new CustomEvent("take", { detail: { document } }));
  }

  async #back() {
    this.carried = null;
    await this.updateComplete;
    /** @type {HTMLElement | null} */ (this.renderRoot.querySelector("h2"))?.focus();
  }

  /** What is still on its way is for nobody any more. */
  #forget() {
    this.#asked += 1;
    this.busy = false;
  }

  /** @returns {HTMLDialogElement | null} */
  get #dialog() {
    return this.renderRoot.querySelector("dialog");
  }

  #close() {
    this.#dialog?.close();
  }

  /** @param {MouseEvent} event */
  #outside(event) {
    if (event.target === this.#dialog) this.#close();
  }
}

/** The engine's texts also stand after a name; alone they begin with a capital and end with a stop. @param {string} text @returns {string} */
function asSentence(text) {
  const begun = /^[a-z]+[,:]? /.test(text) ? text[0].toUpperCase() + text.slice(1) : text;
  return /[.!?…]$/.test(begun) ? begun : `${begun}.`;
}

customElements.define("gb-onto", GbOnto);
