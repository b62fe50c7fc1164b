/**
 * What could come next: towards a wish in words, with what is to stay; each suggestion is seen and heard before it is
 * taken.
 *
 * It stands beside the beat, or below it where there is no room beside, so that what is tried can be seen; the page can
 * be used meanwhile. `find` asks the engine. `basis` tells which stage of which document they are about, `now` which
 * document is seen: as long as it is not the one that came of trying, nothing of this is tried. `show(wish)` opens it,
 * `close()` closes it.
 *
 * Events: "hear" with detail {suggestion, done}, "take" with detail {suggestion, tried, done}, "back" with detail {done},
 * done to be called with what came of it; tried: "this" or "other" where one of them is heard already, else "". "stop":
 * silence.
 */

import { LitElement, html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { controls } from "./inks.js";
import { suggestLook } from "./suggest-look.js";
import { unlessTyping } from "./unless-typing.js";

/** @typedef {import("../protocol/messages.js").SuggestionInfo} Suggestion @typedef {import("../protocol/messages.js").SuggestReply} Reply */

/** What can be asked to stay, with the words for it. */
const KEEP = [["backbeats", "backbeats"], ["kick", "kick"], ["riding", "riding hand"]];
/** Wishes that are offered at once. Our choice. */
const FEW = 9;
/** Hundredths by which a part of the demand changes before it is worth a word, and before it is much. Our choice. */
const SOME = 5;
const MUCH = 25;

export class GbSuggest extends LitElement {
  static properties = {
    place: { type: String },
    basis: { type: String },
    now: { type: String },
    sounding: { type: Boolean },
    find: { attribute: false, hasChanged: () => false },
    open: { type: Boolean, reflect: true },
    wish: { state: true },
    keep: { state: true },
    reply: { state: true },
    trouble: { state: true },
    busy: { state: true },
    tried: { state: true },
    stale: { state: true },
    all: { state: true },
    said: { state: true },
  };

  static styles = [controls, suggestLook];

  #asked = 0;
  #seed = 0;
  /** What is to be tried or taken and the engine has not answered yet. */
  #pending = 0;
  /** The document that came of trying. */
  #heard = "";
  /** @type {Element | null} what had the keyboard before */
  #before = null;

  constructor() {
    super();
    this.place = "";
    this.basis = "";
    this.now = "";
    this.sounding = false;
    /** @type {(question: { wish: string, keep: string, seed: number }) => Promise<any>} */ this.find = async () => ({});
    this.open = false;
    this.wish = "";
    /** @type {string[]} */ this.keep = ["backbeats"];
    /** @type {Reply | null} */ this.reply = null;
    this.trouble = "";
    this.busy = false;
    /** which one is tried, -1 for none */ this.tried = -1;
    /** whether the beat or the stage has become another one since */ this.stale = false;
    /** whether all wishes are shown */ this.all = false;
    this.said = "";
  }

  /** Open it with a wish, "" for the one before. @param {string} [wish] */
  async show(wish = "") {
    if (!this.open) this.#before = activeElement();
    if (wish) this.wish = wish;
    this.open = true;
    await this.updateComplete;
    /** @type {HTMLElement | null} */ (this.renderRoot.querySelector("h2"))?.focus();
    this.#look();
  }

  /** Close it; what is tried is taken back. */
  close() {
    if (!this.open) return;
    this.#asked += 1;
    this.open = false;
    this.reply = null;
    this.#back(() => {});
    if (this.#before instanceof HTMLElement && this.#before.isConnected) this.#before.focus();
  }

  /** @param {Map<PropertyKey, unknown>} changed */
  willUpdate(changed) {
    if (this.#pending) return;
    if (changed.has("now") && this.now !== this.#heard) this.tried = -1; // it was taken back, or something else is tried
    if (!changed.has("basis") || !this.reply) return;
    this.stale = true;
    this.tried = -1; // it is kept now, elsewhere on the page
  }

  render() {
    if (!this.open) return nothing;
    const { reply } = this;
    const wishes = reply?.wishes ?? [];
    const shown = wishes.filter((wish, i) => this.all || i < FEW || wish === this.wish);
    return html`<div class="panel" role="dialog" aria-labelledby="title" @keydown=${this.#key}>
      <div class="top"><h2 id="title" tabindex="-1">Suggestions <span>after ${this.place}</span></h2><span class="deeds">${this.sounding ? html`<button type="button" @click=${() => this.#tell("stop", {})}>Stop</button>` : nothing}
        <button type="button" @click=${this.close}>Close</button></span></div>
      <div class="inside">
        <form @submit=${this.#wished}>
          <label for="wish">It is to be</label>
          <input type="text" id="wish" maxlength="200" autocomplete="off" placeholder="a little busier and quieter" .value=${unlessTyping(this.wish)} />
          <button type="submit">Look</button>
        </form>
        ${wishes.length
          ? html`<div class="wishes" role="group" aria-label="Wishes">${shown.map((wish, i) => html`<button type="button" aria-pressed=${(this.wish ? wish === this.wish : i === 0) ? "true" : "false"}
              @click=${() => this.#pick(wish)}>${wish}</button>`)}
              ${wishes.length > FEW ? html`<button type="button" class="more" aria-expanded=${this.all ? "true" : "false"} @click=${() => (this.all = !this.all)}>${this.all ? "fewer" : "more wishes"}</button>` : nothing}</div>`
          : nothing}
        <fieldset><legend>Stays</legend>
          ${KEEP.map(([what, words]) => html`<label class="tick"><input type="checkbox" .checked=${live(this.keep.includes(what))}
            @change=${() => this.#hold(what)} /> ${words}</label>`)}</fieldset>
        <p class="trouble" role="alert">${this.trouble}</p>
        <p class="unseen" role="status">${this.said}</p>
        <div class="found" aria-busy=${this.busy ? "true" : "false"}>
          ${this.busy ? html`<p class="soft">Looking for some.</p>` : nothing}
          ${reply ? this.#found(reply) : nothing}
        </div>
      </div>
    </div>`;
  }

  /** @param {Reply} reply */
  #found({ suggestions, says }) {
    if (this.stale) {
      return html`<p>The beat or the stage has changed since.</p><button type="button" ?disabled=${this.busy} @click=${this.#look}>Look again</button>`;
    }
    return html`${says.map((text) => html`<p>${asSentence(text)}</p>`)}
      ${suggestions.length ? html`<ol>${suggestions.map((one, i) => this.#one(one, i))}</ol>` : nothing}
      <button type="button" class="others" ?disabled=${this.busy} @click=${this.#others}>Others</button>`;
  }

  /** @param {Suggestion} one @param {number} i */
  #one(one, i) {
    const on = i === this.tried;
    const { more, less } = changes(one);
    return html`<li class=${on ? "one tried" : "one"}>
      <h3>${one.heading}</h3>
      ${one.key ? html`<p class="where">changes the words of this stage</p>` : nothing}
      <p dir="auto">${one.plain}</p>
      <p class="soft">${asSentence(one.why)}</p>
      ${more || less ? html`<p class="soft parts">${more ? html`<span><b>More:</b> ${more}.</span>` : nothing} ${less ? html`<span><b>Less:</b> ${less}.</span>` : nothing}</p>` : nothing}
      <div class="deeds" role="group" aria-label=${one.plain}>
        <button type="button" aria-label=${`${on ? "Back to what was" : "Hear it"}: ${one.plain}`} @click=${() => (on ? this.#undo() : this.#hear(one, i))}>${on ? "Back to what was" : "Hear it"}</button>
        <button type="button" class=${on ? "main" : ""} aria-label=${`Take it: ${one.plain}`} @click=${() => this.#take(one, i)}>Take it</button>
        ${on ? html`<span class="soft">This is what you see and hear. It is not kept yet.</span>` : nothing}
      </div>
    </li>`;
  }

  /** @param {Suggestion} suggestion @param {number} i */
  #hear(suggestion, i) {
    this.tried = i; // at once: quick fingers take it before the engine has answered
    this.#pending += 1;
    this.#tell("hear", { suggestion, done: (/** @type {boolean} */ done) => {
      this.#pending -= 1;
      if (!done && !this.#pending) this.tried = -1;
      this.#heard = this.now;
      if (done) this.said = `You see and hear: ${suggestion.plain} Take it, or go back.`;
    } });
  }

  #undo() {
    this.#back(() => {
      this.said = "Back to what was.";
    });
  }

  /** Take back what is tried, and then go on. @param {() => void} then */
  #back(then) {
    if (this.tried < 0) return then();
    this.tried = -1;
    this.#tell("back", { done: then });
  }

  /** @param {Suggestion} suggestion @param {number} i */
  #take(suggestion, i) {
    const tried = this.tried < 0 ? "" : this.tried === i ? "this" : "other";
    this.#pending += 1;
    this.#tell("take", { suggestion, tried, done: (/** @type {boolean} */ done) => {
      this.#pending -= 1;
      if (!done) return;
      this.tried = -1;
      this.#before = null; // the keyboard goes to what was taken
      this.close();
    } });
  }

  /** @param {string} wish */
  #pick(wish) {
    this.wish = wish;
    this.#seed = 0;
    this.#look();
  }

  /** @param {SubmitEvent} event */
  #wished(event) {
    event.preventDefault();
    this.#pick(/** @type {HTMLInputElement} */ (this.renderRoot.querySelector("#wish")).value.trim());
  }

  /** @param {string} what */
  #hold(what) {
    this.keep = KEEP.map(([one]) => one).filter((one) => this.keep.includes(one) !== (one === what));
    this.#seed = 0;
    this.#look();
  }

  #others() {
    this.#seed += 1;
    this.#look();
  }

  /** Look for suggestions for what is set now; what is tried is taken back first. */
  #look() {
    const asked = (this.#asked += 1);
    this.busy = true;
    this.#back(async () => {
      const reply = await this.find({ wish: this.wish, keep: this.keep.join(" "), seed: this.#seed });
      if (asked !== this.#asked || !this.open) return; // something else was wished meanwhile
      this.busy = false;
      this.trouble = reply.suggestions ? "" : asSentence(reply.trouble || "The engine has no answer to that.");
      if (!reply.suggestions) return;
      this.reply = reply;
      this.stale = false;
      const many = reply.suggestions.length;
      this.said = many ? `${many} ${many === 1 ? "suggestion" : "suggestions"}.` : "";
    });
  }

  /** Escape closes it, as it does a dialog. @param {KeyboardEvent} event */
  #key(event) {
    if (event.key !== "Escape" || event.defaultPrevented) return;
    event.preventDefault();
    event.stopPropagation();
    this.close();
  }

  /** @param {string} name @param {object} detail */
  #tell(name, detail) {
    this.dispatchEvent(new CustomEvent(name, { detail }));
  }
}

/**
 * Which parts of what is asked of a player grow and shrink; how new it is is always more and is not said.
 * @param {Suggestion} one @returns {{ more: string, less: string }}
 */
function changes({ parts }) {
  const changed = parts.filter(({ part }) => part !== "newness").map(({ part, before, after }) => ({ part, by: after - before }));
  const said = (/** @type {number} */ sign) =>
    changed
      .filter(({ by }) => by * sign >= SOME)
      .sort((a, b) => (b.by - a.by) * sign)
      .map(({ part, by }) => (by * sign >= MUCH ? `much ${part}` : part))
      .join(", ");
  return { more: said(1), less: said(-1) };
}

/** What has the keyboard, inside elements too. @returns {Element | null} */
function activeElement() {
  let one = document.activeElement;
  while (one?.shadowRoot?.activeElement) one = one.shadowRoot.activeElement;
  return one;
}

/** The engine's texts also stand after a name; alone they begin with a capital and end with a stop. @param {string} text @returns {string} */
function asSentence(text) {
  const begun = text[0].toUpperCase() + text.slice(1);
  return /[.!?…]$/.test(begun) ? begun : `${begun}.`;
}

customElements.define("gb-suggest", GbSuggest);
