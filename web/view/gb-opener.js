/**
 * The ways in: a file, a pasted link or groove, or one of the common beats. A dialog that the keyboard can leave.
 *
 * Events: "text" with detail {text}, "file" with detail {file, bars}. `show()` opens it.
 */

import { LitElement, css, html } from "lit";
import { controls } from "./inks.js";

export class GbOpener extends LitElement {
  static properties = { beats: { attribute: false } };

  static styles = [
    controls,
    css`
      dialog {
        width: min(46rem, calc(100vw - 1.5rem)); max-height: calc(100dvh - 1.5rem); padding: 0; overflow: auto;
        border: 0; border-radius: 1rem; background: var(--paper); color: var(--ink-0); box-shadow: var(--lift);
      }
      dialog::backdrop { background: rgb(10 15 20 / 0.45); }
      .inside { padding: 1rem 1.25rem 1.5rem; }
      .top { display: flex; align-items: center; justify-content: space-between; gap: 1rem; }
      h2 { margin: 0; font-size: 1.3rem; }
      h3 { margin: 1.1rem 0 0.3rem; font-size: 1rem; }
      p { margin: 0.2rem 0 0.5rem; color: var(--soft); line-height: 1.4; }
      ul { list-style: none; margin: 0; padding: 0; display: grid; gap: 0.4rem; grid-template-columns: repeat(auto-fill, minmax(min(17rem, 100%), 1fr)); }
      li button { width: 100%; height: 100%; text-align: start; border-radius: 0.7rem; padding: 0.5rem 0.8rem; }
      li b { display: block; }
      li span { color: var(--soft); font-size: 0.9rem; }
      form { display: flex; flex-wrap: wrap; gap: 0.6rem; align-items: end; }
      .grow { flex: 1 1 15rem; display: grid; gap: 0.25rem; }
      textarea { width: 100%; min-height: 3.6rem; resize: vertical; font-family: ui-monospace, monospace; font-size: 0.9rem; }
      input[type="file"] { max-width: 100%; min-height: 2.75rem; padding: 0.4rem 0; }
      input[type="text"] { width: 6rem; }
      @media (forced-colors: active) { dialog { border: 2px solid CanvasText; } }
    `,
  ];

  constructor() {
    super();
    /** @type {{ title: string, about: string, link: string }[]} */ this.beats = [];
  }

  /** Open the dialog. */
  show() {
    this.#dialog?.showModal();
  }

  render() {
    return html`<dialog aria-labelledby="title" @click=${this.#outside}>
      <div class="inside">
        <div class="top">
          <h2 id="title">Open a beat</h2>
          <button type="button" @click=${this.#close}>Close</button>
        </div>
        <form @submit=${this.#paste}>
          <label class="grow"><h3>From a link, the text of a groove file, tablature, or a score as MusicXML</h3>
            <textarea name="text" spellcheck="false" autocomplete="off"></textarea></label>
          <button type="submit">Open text</button>
        </form>
        <h3 id="from-file">From a file</h3>
        <p>A groove file (.toml), a MIDI file with drums (.mid), a score with drums (.musicxml, .xml, .mxl), or tablature (.txt); you can also drop it anywhere on the page. Of all but a groove file you may take only some bars, such as 1-2.</p>
        <form @submit=${this.#file}>
          <input type="file" aria-labelledby="from-file" accept=".toml,.mid,.midi,.musicxml,.xml,.mxl,.txt,.tab,audio/midi" />
          <label>only these bars <input type="text" name="bars" placeholder="1-2" autocomplete="off" /></label>
          <button type="submit">Open file</button>
        </form>
        ${this.beats.length ? html`<h3>Common beats</h3>
          <ul>${this.beats.map((beat) => html`<li><button type="button" @click=${() => this.#text(beat.link)}>
            <b dir="auto">${beat.title}</b><span>${beat.about}</span></button></li>`)}</ul>` : ""}
      </div>
    </dialog>`;
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

  /** @param {string} text */
  #text(text) {
    this.#close();
    this.dispatchEvent(new CustomEvent("text", { detail: { text } }));
  }

  /** @param {SubmitEvent} event */
  #paste(event) {
    event.preventDefault();
    const field = /** @type {HTMLTextAreaElement} */ (this.renderRoot.querySelector("textarea"));
    const text = field.value; // as it is: the counts of a tablature stand where they stand
    if (!text.trim()) return field.focus();
    field.value = "";
    this.#text(text);
  }

  /** @param {SubmitEvent} event */
  #file(event) {
    event.preventDefault();
    const field = /** @type {HTMLInputElement} */ (this.renderRoot.querySelector('input[type="file"]'));
    const bars = /** @type {HTMLInputElement} */ (this.renderRoot.querySelector('input[name="bars"]')).value.trim();
    const file = field.files?.[0];
    if (!file) return field.focus();
    this.#close();
    this.dispatchEvent(new CustomEvent("file", { detail: { file, bars } }));
    field.value = "";
  }
}

customElements.define("gb-opener", GbOpener);
