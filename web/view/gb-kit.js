/**
 * The student's own kit: which one it is, and over the stages what is played where because of it.
 *
 * A few usual kits to pick from, or single things to tick; each choice is shown and heard at once. The document stays as
 * it is written. `show()` opens the dialog.
 *
 * Events: "kit" with detail {kit}: text, "" for as written.
 */

import { LitElement, css, html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { controls } from "./inks.js";

const PAD = "pad";

export class GbKit extends LitElement {
  static properties = {
    shown: { attribute: false },
    kit: { type: String },
    things: { attribute: false },
    presets: { attribute: false },
    own: { state: true },
    said: { state: true },
  };

  static styles = [
    controls,
    css`
      :host { display: block; }
      aside {
        display: flex; flex-wrap: wrap; align-items: start; gap: 0.4rem 1.25rem; margin: 0 0 0.75rem; padding: 0.6rem 0.6rem 0.6rem 1rem;
        border-left: 6px solid var(--rule-strong); border-radius: 0.7rem; background: var(--sunk);
      }
      aside > div { flex: 1 1 18rem; min-width: 0; }
      aside p { margin: 0.2rem 0; line-height: 1.4; overflow-wrap: anywhere; }
      aside p + p { color: var(--soft); }
      b { font-weight: 680; }
      .buttons { display: flex; flex-wrap: wrap; gap: 0.4rem; }
      dialog {
        width: min(38rem, calc(100vw - 1.5rem)); max-height: calc(100dvh - 1.5rem); padding: 0; overflow: auto;
        border: 0; border-radius: 1rem; background: var(--paper); color: var(--ink-0); box-shadow: var(--lift);
      }
      dialog::backdrop { background: rgb(10 15 20 / 0.45); }
      .inside { padding: 1rem 1.25rem 1.5rem; }
      .top { display: flex; align-items: center; justify-content: space-between; gap: 1rem; }
      h2 { margin: 0; font-size: 1.3rem; }
      dialog p { margin: 0.3rem 0 0.6rem; color: var(--soft); line-height: 1.4; }
      fieldset { margin: 0 0 0.75rem; padding: 0; border: 0; min-width: 0; }
      legend { padding: 0; font-weight: 650; }
      .choices { display: grid; grid-template-columns: repeat(auto-fill, minmax(min(16rem, 100%), 1fr)); gap: 0 1rem; }
      .things { display: grid; grid-template-columns: repeat(auto-fill, minmax(8.3rem, 1fr)); gap: 0 0.75rem; }
      input[type="radio"] { accent-color: var(--ink-0); width: 1.25rem; height: 1.25rem; margin: 0; flex: none; }
      @media (forced-colors: active) { dialog { border: 2px solid CanvasText; } }
    `,
  ];

  constructor() {
    super();
    /** @type {import("../protocol/messages.js").KitInfo | null} the kit that the beat is shown on */ this.shown = null;
    /** the kit that was chosen, as text; what is shown follows */ this.kit = "";
    /** @type {string[]} what can be owned */ this.things = [];
    /** @type {import("../protocol/messages.js").PresetInfo[]} */ this.presets = [];
    /** whether single things are ticked */ this.own = false;
    this.said = "";
  }

  /** Open the dialog. */
  show() {
    this.own = !this.presets.some(({ kit }) => kit === this.kit);
    this.said = "";
    this.#dialog?.showModal();
  }

  render() {
    return html`${this.shown ? this.#line(this.shown) : nothing}
      <dialog aria-labelledby="title" @click=${this.#outside}>
        <div class="inside">
          <div class="top"><h2 id="title">My kit</h2><button type="button" @click=${this.#close}>Done</button></div>
          <p>What do you play on? The beat is drawn and heard on what you have. The beat itself, its link and its file stay
            as they are written; this browser remembers your kit.</p>
          <fieldset>
            <legend class="unseen">My kit is</legend>
            <div class="choices">
              ${this.presets.map(({ name, kit }) => html`<label class="tick"><input type="radio" name="kit"
                .checked=${live(!this.own && kit === this.kit)} @change=${() => this.#pick(kit)} />
                ${kit ? name : "everything, as written"}</label>`)}
              <label class="tick"><input type="radio" name="kit" .checked=${live(this.own)} @change=${this.#begin} /> what I tick here</label>
            </div>
          </fieldset>
          ${this.own ? this.#ticks() : nothing}
          <p role="status">${this.said}</p>
        </div>
      </dialog>`;
  }

  /** @param {import("../protocol/messages.js").KitInfo} shown */
  #line({ text, says }) {
    const name = this.presets.find(({ kit }) => kit === text)?.name;
    return html`<aside aria-label="My kit">
      <div><p>Shown and played on <b>${name ?? "your kit"}</b>, ${says.length ? "not as written" : "which has all that is written"}.</p>${says.map((say) => html`<p>${say}</p>`)}</div>
      <span class="buttons"><button type="button" @click=${() => this.#tell("")}>As written</button>
        <button type="button" aria-haspopup="dialog" @click=${this.show}>Change my kit</button></span>
    </aside>`;
  }

  #ticks() {
    const owned = new Set(this.kit.split(", "));
    return html`<fieldset><legend>I have</legend>
      <div class="things">${this.things.map((thing) => html`<label class="tick"><input type="checkbox" .checked=${live(owned.has(thing))}
        @change=${(/** @type {Event} */ e) => this.#tick(thing, /** @type {HTMLInputElement} */ (e.currentTarget))} /> ${thing}</label>`)}</div></fieldset>`;
  }

  /** @param {string} kit */
  #pick(kit) {
    this.#tell(kit);
    this.own = false;
    this.said = "";
  }

  /** Begin to tick: from what is shown, or from everything. */
  #begin() {
    if (this.kit === "" || this.kit === PAD) this.#tell(this.things.join(", "));
    this.own = true;
  }

  /** @param {string} thing @param {HTMLInputElement} box */
  #tick(thing, box) {
    const owned = new Set(this.kit.split(", "));
    if (box.checked) owned.add(thing);
    else owned.delete(thing);
    const kit = this.things.filter((one) => owned.has(one));
    this.said = kit.length ? "" : "Keep at least one thing to play on.";
    if (kit.length) this.#tell(kit.join(", "));
    else box.checked = true;
  }

  /** @param {string} kit */
  #tell(kit) {
    this.dispatchEvent(new CustomEvent("kit", { detail: { kit } }));
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

customElements.define("gb-kit", GbKit);
