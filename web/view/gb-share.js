/**
 * Handing the beat out: its link to copy, how long that is, the same as a QR code, the system's own way of sharing,
 * and the files to save (gb-files.js).
 *
 * The link is the whole document. `qr` asks the engine for the code of a text; `make` and `sound` are for the files.
 * `show()` opens the dialog.
 *
 * Events: "sheets" when sheets for a class are wished for; this dialog is closed then.
 */

import { LitElement, css, html, nothing, svg } from "lit";
import "./gb-files.js";
import { controls } from "./inks.js";

/** Longer links are cut by some chat programs (messages of 2,000 characters). Our choice. */
const FITS_A_MESSAGE = 1800;
/** Light border of a QR code, in modules (ISO/IEC 18004). */
const BORDER = 4;
/** @typedef {import("./gb-files.js").SoundFile} SoundFile @typedef {import("./gb-files.js").Make} Make */

export class GbShare extends LitElement {
  static properties = {
    link: { type: String },
    trouble: { type: String },
    document: { type: String },
    name: { type: String },
    qr: { attribute: false },
    stage: { type: String },
    several: { type: Boolean },
    make: { attribute: false, hasChanged: () => false },
    sound: { attribute: false },
    code: { state: true },
    said: { state: true },
  };

  static styles = [
    controls,
    css`
      dialog {
        width: min(44rem, calc(100vw - 1.5rem)); max-height: calc(100dvh - 1.5rem); padding: 0; overflow: auto;
        border: 0; border-radius: 1rem; background: var(--paper); color: var(--ink-0); box-shadow: var(--lift);
      }
      dialog::backdrop { background: rgb(10 15 20 / 0.45); }
      .inside { padding: 1rem 1.25rem 1.5rem; }
      .top { display: flex; align-items: center; justify-content: space-between; gap: 1rem; }
      h2 { margin: 0; font-size: 1.3rem; }
      h3 { margin: 0 0 0.3rem; font-size: 1rem; }
      p { margin: 0.3rem 0; color: var(--soft); line-height: 1.4; overflow-wrap: anywhere; }
      .ways { display: grid; grid-template-columns: minmax(0, 1fr) auto; gap: 1.25rem 1.75rem; margin-top: 1rem; align-items: start; }
      .link { display: flex; flex-wrap: wrap; gap: 0.5rem; }
      .link input { flex: 1 1 12rem; min-width: 0; font-family: ui-monospace, monospace; font-size: 0.9rem; }
      .buttons { display: flex; flex-wrap: wrap; gap: 0.5rem; margin-top: 1rem; }
      .qr { width: 13.5rem; max-width: 100%; }
      .qr svg { display: block; width: 100%; height: auto; background: #fff; border-radius: 0.5rem; forced-color-adjust: none; }
      .qr path { fill: #000; forced-color-adjust: none; }
      .told { position: sticky; bottom: 0; margin: 0.75rem -1.25rem -1.5rem; padding: 0.4rem 1.25rem 0.6rem; min-height: 2.4rem; background: var(--paper); }
      .told:empty { visibility: hidden; }
      @media (max-width: 36rem) { .ways { grid-template-columns: minmax(0, 1fr); } }
      @media (forced-colors: active) { dialog { border: 2px solid CanvasText; } }
    `,
  ];

  #file = "";

  constructor() {
    super();
    this.link = "";
    this.trouble = "";
    this.document = "";
    this.name = "";
    /** @type {(text: string) => Promise<{ size?: number, path?: string, trouble?: string }>} */
    this.qr = async () => ({});
    /** @type {SoundFile | null} */ this.sound = null;
    /** the chosen stage, in words */ this.stage = "";
    /** whether there are several stages */ this.several = false;
    /** @type {Make} */ this.make = async () => ({});
    /** @type {{ size?: number, path?: string, trouble?: string } | null} */ this.code = null;
    this.said = "";
  }

  /** The whole address, with the document behind "#". @returns {string} */
  get address() {
    return this.link ? new URL(`#${this.link}`, location.href).href : "";
  }

  /** Open the dialog. */
  async show() {
    this.said = "";
    this.code = null;
    URL.revokeObjectURL(this.#file);
    this.#file = URL.createObjectURL(new Blob([this.document], { type: "application/toml" }));
    this.requestUpdate();
    this.#dialog?.showModal();
    if (!this.address) return;
    const asked = this.address;
    const code = await this.qr(asked);
    if (asked === this.address) this.code = code;
  }

  render() {
    const { address } = this;
    return html`<dialog aria-labelledby="title" @click=${this.#outside} @close=${this.#closed}>
      <div class="inside">
        <div class="top"><h2 id="title">Share</h2><button type="button" @click=${this.#close}>Close</button></div>
        ${address ? html`<p>The link holds the whole beat with its variations, names and notes. Nobody needs an account to open it.</p>` : nothing}
        <div class="ways">
          <div>
            ${address ? this.#link(address) : html`<p>${this.trouble || "There is no link yet."} The groove file holds everything all the same.</p>`}
            <div class="buttons">
              ${address && "share" in navigator
                ? html`<button type="button" @click=${this.#send}>Send it with an app</button>` : nothing}
              <button type="button" @click=${this.#sheets}>Sheets for a class</button>
            </div>
            ${this.#leftOut()}
          </div>
          ${address ? html`<div class="qr">${this.#code()}</div>` : nothing}
        </div>
        <gb-files .file=${this.#file} .name=${this.name} .stage=${this.stage} ?several=${this.several} .make=${this.make} .sound=${this.sound}
          @said=${(/** @type {CustomEvent} */ e) => {
            this.said = e.detail.text;
          }}></gb-files>
        <p class="told" role="status">${this.said}</p>
      </div>
    </dialog>`;
  }

  /** @param {string} address */
  #link(address) {
    const count = address.length.toLocaleString("en");
    return html`<label for="link"><h3>Link</h3></label>
      <div class="link"><input id="link" type="text" readonly dir="ltr" .value=${address} @focus=${this.#select} />
        <button type="button" class="main" @click=${this.#copy}>Copy</button></div>
      <p class="length">${address.length <= FITS_A_MESSAGE
        ? `${count} characters; fits a chat message.`
        : `${count} characters; over ${FITS_A_MESSAGE.toLocaleString("en")}, some chat programs cut it. Send it by mail, or send the groove file.`}</p>`;
  }

  #code() {
    const { code } = this;
    if (!code) return html`<p>Drawing the code …</p>`;
    if (!code.path || !code.size) return html`<p>No QR code: ${code.trouble || "it can't be drawn here"}.</p>`;
    const side = code.size + 2 * BORDER;
    return html`<svg viewBox="${-BORDER} ${-BORDER} ${side} ${side}" role="img" aria-label="QR code of the link" shape-rendering="crispEdges">
        ${svg`<path d=${code.path}></path>`}</svg>
      <p>Point a phone's camera at it.</p>`;
  }

  #leftOut() {
    // A line that opens a branch stands alone in the file; text of a person is always inside quotes.
    const branches = this.document.match(/^\[\[branch\]\]$/gm)?.length ?? 0;
    if (!branches) return nothing;
    const ways = branches === 1 ? "One other way stays" : `${branches} other ways stay`;
    return html`<p>${this.link ? "The link holds the way that you see. " : ""}${ways} in the groove file only.</p>`;
  }

  async #copy() {
    const field = /** @type {HTMLInputElement} */ (this.renderRoot.querySelector("#link"));
    try {
      await navigator.clipboard.writeText(this.address);
      this.said = "Copied.";
    } catch {
      // Without permission, or by plain http: the text is selected, and the browser's own copying is one key away.
      field.focus();
      field.select();
      const done = document.execCommand("copy");
      this.said = done ? "Copied." : "The browser does not let this page copy. The link is selected: copy it as you copy any text.";
    }
  }

  #sheets() {
    this.#close();
    this.dispatchEvent(new CustomEvent("sheets"));
  }

  async #send() {
    try {
      await navigator.share({ title: this.name || "A beat", url: this.address });
    } catch (error) {
      if (!(error instanceof DOMException && error.name === "AbortError")) this.said = "That did not work here. Copy the link instead.";
    }
  }

  /** @param {Event} event */
  #select(event) {
    /** @type {HTMLInputElement} */ (event.currentTarget).select();
  }

  /** @returns {HTMLDialogElement | null} */
  get #dialog() {
    return this.renderRoot.querySelector("dialog");
  }

  #close() {
    this.#dialog?.close();
  }

  #closed() {
    this.said = "";
  }

  /** @param {MouseEvent} event */
  #outside(event) {
    if (event.target === this.#dialog) this.#close();
  }
}

customElements.define("gb-share", GbShare);
