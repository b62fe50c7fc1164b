/**
 * The other ways that are kept beside the one that is shown: hear one, take it, name it, delete it.
 *
 * Hearing one shows and plays it from the next loop point on, without keeping it; the same button goes back, so both
 * are compared by ear. `safe` is false where the browser keeps nothing and a reload would lose them.
 *
 * Events: "hear" and "back" {way, tried, done}, "take" {way, tried, done}, "part" {way, tried, done},
 * "call" {way, name, tried}; done is to be called with what came of it. `tried`: one of them is only heard so far.
 */

import { LitElement, css, html, nothing } from "lit";
import { controls } from "./inks.js";
import { unlessTyping } from "./unless-typing.js";

/** @typedef {import("../protocol/messages.js").WayInfo} Way */

/** Characters of a name, as in the groove file. */
const LONGEST = 60;

export class GbWays extends LitElement {
  static properties = {
    ways: { attribute: false },
    trying: { type: Boolean },
    safe: { type: Boolean },
    tried: { state: true },
    said: { state: true },
  };

  static styles = [
    controls,
    css`
      :host { display: block; }
      .some { margin: 1rem 0 1.25rem; }
      h2 { margin: 0; font-size: 1rem; }
      p { margin: 0.15rem 0; line-height: 1.4; overflow-wrap: anywhere; }
      .soft, .what { color: var(--soft); }
      .soft { font-size: 0.92rem; }
      ul { list-style: none; margin: 0.5rem 0 0; padding: 0; border-top: 1px solid var(--rule); }
      li { display: grid; grid-template-columns: minmax(9rem, 14rem) minmax(0, 1fr) auto; gap: 0.25rem 1.25rem; align-items: center; padding: 0.5rem 0; border-bottom: 1px solid var(--rule); }
      input[type="text"] { width: 100%; min-width: 0; padding-inline: 0.2rem; border: 0; border-bottom: 1.5px solid var(--rule-strong); border-radius: 0; background: none; font-weight: 650; }
      .buttons { display: flex; flex-wrap: wrap; gap: 0.4rem; }
      .now { color: var(--ink-0); font-weight: 650; }
      .some [role="status"] { min-height: 1.4em; color: var(--ink-0); }
      @media (max-width: 60rem) {
        li { grid-template-columns: minmax(0, 1fr); }
        input[type="text"] { max-width: 20rem; }
      }
    `,
  ];

  /** Ways that are to be heard and the engine has not told yet. */
  #pending = 0;

  constructor() {
    super();
    /** @type {Way[]} */ this.ways = [];
    this.trying = false;
    this.safe = true;
    /** @type {number | null} the way that is only heard so far */
    this.tried = null;
    this.said = "";
  }

  /** Say that a way was just kept, and put the keyboard here. */
  async welcome() {
    await this.updateComplete;
    const kept = this.ways.at(-1);
    if (!kept) return;
    this.said = `What came after is kept as ${kept.name}. Add what comes here instead.`;
    this.#focus("h2");
  }

  /** @param {Map<PropertyKey, unknown>} changed */
  willUpdate(changed) {
    if (changed.has("trying") && !this.trying && !this.#pending) this.tried = null;
    if (changed.has("ways")) this.said = ""; // what was said was about others
  }

  render() {
    const some = this.ways.length > 0;
    return html`<div class=${some ? "some" : ""} role=${some ? "region" : nothing} aria-labelledby=${some ? "ways" : nothing}>
      ${some
        ? html`<h2 id="ways" tabindex="-1">Other ways</h2>
            <p class="soft">${this.safe
              ? "They stay in this tab and go into the groove file. A link holds only the way that you see."
              : "This browser keeps nothing for this page. Save the groove file, under Share, before you leave or reload it."}</p>`
        : nothing}
      <p role="status" tabindex="-1">${this.said}</p>
      ${some ? html`<ul>${this.ways.map((way, i) => this.#row(way, i))}</ul>` : nothing}
    </div>`;
  }

  /** @param {Way} way @param {number} i */
  #row(way, i) {
    const heard = this.tried === i;
    const name = way.name || `way ${i + 1}`;
    return html`<li>
      <input type="text" autocomplete="off" dir="auto" maxlength=${LONGEST} aria-label=${`Name of ${name}`} .value=${unlessTyping(way.name)}
        @change=${(/** @type {Event} */ e) => this.#call(e, i)} @keydown=${(/** @type {KeyboardEvent} */ e) => this.#key(e, way)} />
      <p class="what">${heard ? html`<span class="now">This is what you see and hear.</span> ` : nothing}${whatOf(way)}</p>
      <div class="buttons" role="group" aria-label=${name}>
        <button type="button" aria-label=${`${heard ? "Hear the one before" : "Hear it"}: ${name}`} @click=${(/** @type {Event} */ e) => this.#hear(e, i, name)}>${heard ? "Hear the one before" : "Hear it"}</button>
        <button type="button" class=${heard ? "main" : ""} aria-label=${`Take this way: ${name}`} @click=${() => this.#take(i, name)}>Take this way</button>
        <button type="button" aria-label=${`Delete: ${name}`} @click=${() => this.#part(i, name)}>Delete</button>
      </div>
    </li>`;
  }

  /** @param {Event} event @param {number} way @param {string} name */
  #hear(event, way, name) {
    const button = /** @type {HTMLElement} */ (event.currentTarget);
    const there = button.getBoundingClientRect().top;
    const back = this.tried === way;
    const before = this.tried;
    this.tried = back ? null : way; // at once: quick fingers take it before the engine has answered
    this.#pending += 1;
    const done = async (/** @type {boolean} */ done) => {
      this.#pending -= 1;
      if (!done && !this.#pending) this.tried = null;
      if (!done) return;
      this.said = back ? "Back to the one before." : `You see and hear ${name}. Take it, or go back.`;
      // The other way may have more stages: the button stays under the finger, so that both are compared with one.
      await drawn();
      scrollBy({ top: button.getBoundingClientRect().top - there, behavior: "instant" });
    };
    this.#tell(back ? "back" : "hear", { way, tried: before !== null, done });
  }

  /** @param {number} way @param {string} name */
  #take(way, name) {
    this.#change("take", way, `${name} is taken; what was here is kept in its place.`, `${name} is taken.`, null);
  }

  /** @param {number} way @param {string} name */
  #part(way, name) {
    const text = `${name} is deleted. Undo brings it back.`;
    this.#change("part", way, text, text, "h2");
  }

  /**
   * @param {string} event @param {number} way @param {string} text what is said @param {string} last what is said where
   *   no other way is left @param {string | null} focus where the keyboard goes
   */
  #change(event, way, text, last, focus) {
    const done = async (/** @type {boolean} */ done) => {
      if (!done) return;
      await drawn();
      this.said = this.ways.length ? text : last;
      await this.updateComplete;
      if (!this.ways.length) this.#focus('[role="status"]');
      else if (focus) this.#focus(focus);
    };
    this.#tell(event, { way, tried: this.tried === null ? null : this.tried === way ? "this" : "other", done });
  }

  /** @param {Event} event @param {number} way */
  #call(event, way) {
    const name = /** @type {HTMLInputElement} */ (event.currentTarget).value.trim();
    if (name !== this.ways[way]?.name) this.#tell("call", { way, name, tried: this.tried !== null });
  }

  /** Enter commits the name, Escape takes it back. @param {KeyboardEvent} event @param {Way} way */
  #key(event, way) {
    const field = /** @type {HTMLInputElement} */ (event.currentTarget);
    if (event.key === "Escape") field.value = way.name;
    if (event.key !== "Enter" && event.key !== "Escape") return;
    event.stopPropagation();
    field.blur();
    field.focus();
  }

  /** @param {string} where */
  #focus(where) {
    /** @type {HTMLElement | null} */ (this.renderRoot.querySelector(where))?.focus();
  }

  /** @param {string} name @param {object} detail */
  #tell(name, detail) {
    this.dispatchEvent(new CustomEvent(name, { detail }));
  }
}

/** Wait until the page is drawn as the state is now: it is so in a microtask after this one. @returns {Promise<unknown>} */
function drawn() {
  return new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
}

/** Say where a way leaves and what it does. @param {Way} way @returns {string} */
function whatOf({ after, length, plain }) {
  const from = after ? `stage ${after}` : "the base beat";
  if (!length) return `Ends at ${from}.`;
  const more = length - plain.length;
  const rest = !more ? "" : plain.length ? ` And ${more} more.` : ` ${length} that ${length === 1 ? "is" : "are"} off.`;
  return `From ${from}: ${plain.join(" ")}${rest}`;
}

customElements.define("gb-ways", GbWays);
