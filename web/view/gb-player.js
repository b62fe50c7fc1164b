/**
 * Who plays: which hand leads, which pedals there are, and how fast the own hands and feet go.
 *
 * The choices and the words are the engine's: `ask(player)` tells what a text says of a player, or its trouble.
 * `effect(player)` tells what it changes in the chosen stage. Strokes are counted for ten seconds on a pad of the page
 * (see gb-count) or by somebody else, and written as a number. `show()` opens the dialog.
 *
 * Events: "player" with detail {player}: text, "" for the usual player.
 */

import { LitElement, html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import "./gb-count.js";
import { controls } from "./inks.js";
import { playerLook } from "./player-look.js";
import { unlessTyping } from "./unless-typing.js";

/** @typedef {import("../protocol/messages.js").PlayerReply} Told */
/** @typedef {{ place: string, now: string, usual: string } | null} Effect how fast it goes, in words */

/** How each of the engine's words is asked for: what it is about, what is usual, and what it means. @type {Record<string, [string, string, string]>} */
const ASKED = {
  "left-handed": ["Which hand leads", "right-handed", "left-handed, on a kit set up the other way round"],
  "open-handed": ["Hands on the hi-hat", "crossed: the leading hand plays it over the snare", "open-handed: the other hand plays it, nothing crosses"],
  "double pedal": ["Kick pedals", "one pedal", "double pedal, or two kicks: both feet play them"],
  "drop clutch": ["The hi-hat while that foot plays the kick", "opens", "stays closed, by a drop clutch"],
};

export class GbPlayer extends LitElement {
  static properties = {
    player: { type: String },
    ask: { attribute: false, hasChanged: () => false },
    effect: { attribute: false, hasChanged: () => false },
    open: { type: Boolean, reflect: true },
    told: { state: true },
    limb: { state: true },
    trouble: { state: true },
    changed: { state: true },
  };

  static styles = [controls, playerLook];

  #asked = 0;
  /** What is said, also what the engine has not answered yet. @type {Set<string>} */
  #words = new Set();
  /** @type {Map<string, number | null>} */
  #counts = new Map();

  constructor() {
    super();
    /** who plays, as text */ this.player = "";
    /** @type {(player: string) => Promise<any>} */ this.ask = async () => ({});
    /** @type {(player: string) => Promise<Effect>} */ this.effect = async () => null;
    this.open = false;
    /** @type {Told | null} what the text says */ this.told = null;
    /** which limb is counted now, "" for none */ this.limb = "";
    this.trouble = "";
    /** @type {Effect} */ this.changed = null;
  }

  /** Open the dialog. */
  show() {
    this.open = true;
    this.limb = "";
    this.trouble = "";
    this.#dialog?.showModal();
    this.#turnTo(this.player, false);
  }

  render() {
    const { open, told } = this;
    return html`<dialog aria-labelledby="title" @click=${this.#outside} @close=${this.#closed}>
      <div class="inside">
        <div class="top"><h2 id="title">Who plays</h2><button type="button" @click=${this.#close}>Done</button></div>
        ${open ? html`<p class="soft">Hands, tempos, warnings, plan and suggestions go by this. Only this browser remembers it; no link and no file does.</p>
          ${told ? this.#form(told) : nothing}
          <p class="trouble" role="alert">${this.trouble}</p>` : nothing}
      </div>
    </dialog>`;
  }

  /** @param {Told} told */
  #form(told) {
    return html`<div class="asked">${told.words.map((word) => this.#word(word, told))}</div>
      <section aria-labelledby="own"><h3 id="own">Your own hands and feet, in a minute</h3>
        <p>The usual limits are those of practised players. Count your own strokes: each limb ${told.seconds} seconds, on one drum
          or a pad, a foot on its pedal. As fast as they stay even and loose.</p>
        <p class="care"><b>Do not force speed. Stop if it hurts.</b> Shake out and rest before the next limb.</p>
        <ul>${told.limbs.map((one) => this.#limb(one, told))}</ul>
        <p class="soft">A foot rarely reaches a key, and sticks are hard on a screen: let somebody count ${told.seconds} seconds by the clock, and write the number.</p>
      </section>
      <div class="sum" role="status">${this.#sum(told)}</div>
      <button type="button" ?disabled=${told.player === ""} @click=${() => this.#turnTo("", true)}>All as usual</button>`;
  }

  /** @param {string} word @param {Told} told */
  #word(word, { has }) {
    const [about, usual, meant] = ASKED[word] ?? [word, "no", "yes"];
    const on = has.includes(word);
    return html`<fieldset><legend>${about}</legend>
      ${[usual, meant].map((text, i) => html`<label class="tick"><input type="radio" name=${word} .checked=${live(on === (i === 1))}
        @change=${() => this.#set({ word, on: i === 1 })} /> <span>${text}</span></label>`)}</fieldset>`;
  }

  /** @param {Told["limbs"][number]} one @param {Told} told */
  #limb({ limb, count, text }, { seconds, fewest, most }) {
    const counting = limb === this.limb;
    return html`<li>
      <div class="row"><label>${limb} <input type="number" inputmode="numeric" min=${fewest} max=${most} step="1" autocomplete="off" placeholder="usual"
          aria-label=${`Strokes of the ${limb} in ${seconds} seconds`} .value=${unlessTyping(count === null ? "" : String(count))} @change=${(/** @type {Event} */ e) => this.#write(e, limb)} /></label>
        <button type="button" aria-expanded=${counting ? "true" : "false"} aria-label=${counting ? `Leave it: ${limb}` : `Count here: ${limb}`}
          @click=${() => this.#begin(counting ? "" : limb)}>${counting ? "Leave it" : "Count here"}</button>
        ${text ? html`<span class="soft">${text}</span>` : nothing}</div>
      ${counting
        ? html`<gb-count .limb=${limb} .seconds=${seconds} .fewest=${fewest} @counted=${(/** @type {CustomEvent} */ e) => this.#set({ limb, count: e.detail.count })}></gb-count>`
        : nothing}
    </li>`;
  }

  /** @param {Told} told */
  #sum({ player }) {
    const { changed } = this;
    if (!changed) return nothing;
    if (!player) return html`<p><b>The usual player.</b> ${changed.place}: ${changed.usual}.</p>`;
    return html`<p><b>What it changes.</b> ${changed.place}: ${changed.now}. For the usual player: ${changed.usual}.</p>`;
  }

  /** @param {string} limb */
  async #begin(limb) {
    this.limb = limb;
    await this.updateComplete;
    const pad = /** @type {HTMLElement | null} */ (this.renderRoot.querySelector("gb-count"));
    pad?.focus();
    pad?.scrollIntoView({ block: "nearest" });
  }

  /** @param {Event} event @param {string} limb */
  #write(event, limb) {
    const text = /** @type {HTMLInputElement} */ (event.currentTarget).value;
    this.#set({ limb, count: text === "" ? null : Math.round(Number(text)) });
  }

  /** Say one thing of the player. @param {{ word?: string, on?: boolean, limb?: string, count?: number | null }} change */
  #set({ word, on = false, limb, count = null }) {
    if (!this.told) return;
    if (word && on) this.#words.add(word);
    else if (word) this.#words.delete(word);
    if (limb) this.#counts.set(limb, count);
    const words = this.told.words.filter((one) => this.#words.has(one));
    const counts = [...this.#counts].filter(([, strokes]) => strokes !== null).map(([name, strokes]) => `${name} ${strokes}`);
    this.#turnTo([...words, ...counts].join("; "), true);
  }

  /** @param {string} player @param {boolean} tell whether the page is to go by it */
  async #turnTo(player, tell) {
    const asked = (this.#asked += 1);
    const reply = await this.ask(player);
    if (!this.open) return;
    const last = asked === this.#asked; // else something else was set meanwhile, on top of this
    if (reply.limbs) this.told = reply;
    if (reply.limbs && tell) this.dispatchEvent(new CustomEvent("player", { detail: { player: reply.player } }));
    if (!last) return;
    this.trouble = reply.limbs ? "" : asSentence(reply.trouble || "The engine has no answer to that.");
    this.#words = new Set(this.told?.has);
    this.#counts = new Map(this.told?.limbs.map(({ limb, count }) => [limb, count]));
    this.requestUpdate(); // what was refused gives way to what holds
    if (!this.told) return;
    const changed = await this.effect(this.told.player);
    if (asked === this.#asked) this.changed = changed;
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
    this.limb = "";
  }

  /** @param {MouseEvent} event */
  #outside(event) {
    if (event.target === this.#dialog) this.#close();
  }
}

/** The engine's texts also stand after a name; alone they begin with a capital and end with a stop. @param {string} text @returns {string} */
function asSentence(text) {
  const begun = text[0].toUpperCase() + text.slice(1);
  return /[.!?…]$/.test(begun) ? begun : `${begun}.`;
}

customElements.define("gb-player", GbPlayer);
