/**
 * Handing the beat out: its link to copy, how long that is, the same as a QR code, the system's own way of sharing,
 * the groove file to save, and the sound of the chosen stage.
 *
 * The link is the whole document. `qr` asks the engine for the code of a text; `sound` says what sound there is to save
 * and makes it. `show()` opens the dialog.
 *
 * Events: "sheets" when sheets for a class are wished for; this dialog is closed then.
 */

import { LitElement, css, html, nothing, svg } from "lit";
import { controls } from "./inks.js";

/** Longer links are cut by some chat programs (messages of 2,000 characters). Our choice. */
const FITS_A_MESSAGE = 1800;
/** Light border of a QR code, in modules (ISO/IEC 18004). */
const BORDER = 4;
/** Rounds of a sound where nobody has said how many. Our choice. */
const ROUNDS = 8;
/** Milliseconds for which a saved file is kept for the browser to fetch. */
const FETCHED = 60_000;

/** @typedef {{ most: number, about: (rounds: number) => string, save: (rounds: number) => Promise<{ wav: Blob | null, ending: string, says: string }>, through: SoundFile | null }} SoundFile
 *   through: the stages one after the other, where there are several */

export class GbShare extends LitElement {
  static properties = {
    link: { type: String },
    trouble: { type: String },
    document: { type: String },
    name: { type: String },
    qr: { attribute: false },
    sound: { attribute: false },
    rounds: { state: true },
    whole: { state: true },
    making: { state: true },
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
      a.button { display: inline-flex; align-items: center; min-height: 2.75rem; padding: 0.25rem 1rem; border: 1px solid var(--rule); border-radius: 1.4rem; background: var(--raised); color: inherit; text-decoration: none; }
      a.button:hover { border-color: currentColor; }
      .qr { width: 13.5rem; max-width: 100%; }
      .qr svg { display: block; width: 100%; height: auto; background: #fff; border-radius: 0.5rem; forced-color-adjust: none; }
      .qr path { fill: #000; forced-color-adjust: none; }
      .sound { margin-top: 1.25rem; padding-top: 1rem; border-top: 1px solid var(--rule); }
      .sound .buttons { align-items: center; margin-top: 0.5rem; }
      .sound input[type="number"] { width: 5.5rem; margin-inline-start: 0.4rem; }
      .told { min-height: 1.4em; }
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
    this.rounds = ROUNDS;
    /** whether all stages are wished for, one after the other */ this.whole = false;
    this.making = false;
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
            <p class="told" role="status">${this.said}</p>
            <div class="buttons">
              ${address && "share" in navigator
                ? html`<button type="button" @click=${this.#send}>Send it with an app</button>` : nothing}
              <button type="button" @click=${this.#sheets}>Sheets for a class</button>
              <a class="button" href=${this.#file || nothing} download=${`${fileName(this.name)}.toml`}>Save the groove file</a>
            </div>
            ${this.#leftOut()}
            ${this.#wished ? this.#sound(this.#wished) : nothing}
          </div>
          ${address ? html`<div class="qr">${this.#code()}</div>` : nothing}
        </div>
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

  /** What is to be saved. @returns {SoundFile | null} */
  get #wished() {
    return (this.whole && this.sound?.through) || this.sound;
  }

  /** @param {SoundFile} sound */
  #sound(sound) {
    const rounds = Math.min(this.rounds, sound.most);
    return html`<section class="sound" aria-labelledby="sound">
      <h3 id="sound">Sound to take along</h3>
      <p>${sound.about(rounds)}</p>
      <div class="buttons">
        ${this.sound?.through ? html`<label class="tick"><input type="checkbox" .checked=${this.whole} @change=${(/** @type {Event} */ e) => {
          this.whole = /** @type {HTMLInputElement} */ (e.currentTarget).checked;
        }} /> all stages, one after the other</label>` : nothing}
        <label>Rounds<input type="number" min="1" max=${sound.most} step="1" .value=${String(rounds)} ?disabled=${sound.most === 0}
          @change=${this.#turnRounds} /></label>
        <button type="button" ?disabled=${this.making || sound.most === 0} @click=${this.#saveSound}>Save the sound</button>
      </div>
    </section>`;
  }

  /** @param {Event} event */
  #turnRounds(event) {
    const wished = Math.round(Number(/** @type {HTMLInputElement} */ (event.currentTarget).value));
    this.rounds = Math.min(Math.max(1, wished || ROUNDS), this.#wished?.most || 1);
    this.requestUpdate();
  }

  async #saveSound() {
    const sound = this.#wished;
    if (!sound || this.making) return;
    this.making = true;
    this.said = "Making the sound …";
    try {
      const { wav, ending, says } = await sound.save(Math.min(this.rounds, sound.most));
      if (wav) {
        const address = URL.createObjectURL(wav);
        Object.assign(document.createElement("a"), { href: address, download: `${fileName(this.name)}-${ending}` }).click();
        setTimeout(() => URL.revokeObjectURL(address), FETCHED);
      }
      this.said = says;
    } catch (error) {
      this.said = "That did not work here. Reload the page and try again.";
      throw error;
    } finally {
      this.making = false;
    }
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

/** Make a file's name of a title: letters and digits of any script, with hyphens. @param {string} title @returns {string} */
function fileName(title) {
  return title.normalize("NFC").replace(/[^\p{L}\p{M}\p{N}]+/gu, "-").replace(/^-+|-+$/g, "").toLowerCase().slice(0, 60) || "beat";
}

customElements.define("gb-share", GbShare);
