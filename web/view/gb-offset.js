/**
 * The light of the counts and the sound together: a person's own correction, for headphones without a wire.
 *
 * What the browser knows of the way to the ear is in the drawing already; what it does not know is set here, by eye and ear.
 * Event: "offset" with detail {offset} in seconds: above 0 the light comes later, below 0 earlier.
 */

import { LitElement, css, html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { controls } from "./inks.js";

/** Milliseconds, as the player takes them; a step that an eye can tell is our choice. */
const EARLIEST = -100;
const LATEST = 500;
const STEP = 10;
/** Milliseconds between two looks at what the browser says, while this is open. Our choice. */
const LOOK = 1000;

export class GbOffset extends LitElement {
  static properties = {
    offset: { type: Number },
    latency: { attribute: false },
  };

  static styles = [
    controls,
    css`
      :host { display: block; min-width: 0; max-width: 100%; }
      details[open] { flex-basis: 100%; max-width: 36rem; }
      summary { display: inline-flex; align-items: center; min-height: 2.75rem; cursor: pointer; text-decoration: underline dotted; text-underline-offset: 0.2em; }
      summary::-webkit-details-marker { display: none; }
      p { margin: 0.2rem 0; color: var(--soft); }
      label { display: flex; flex-wrap: wrap; align-items: center; gap: 0 0.6rem; }
      input { flex: 1 1 12rem; min-width: 6rem; }
      output { min-width: 6.5rem; }
    `,
  ];

  /** @type {ReturnType<typeof setInterval> | undefined} */
  #looking;

  constructor() {
    super();
    this.offset = 0;
    /** @type {() => number | null} seconds to the ear as the browser states them, null before it has played */
    this.latency = () => null;
  }

  disconnectedCallback() {
    super.disconnectedCallback();
    clearInterval(this.#looking);
  }

  render() {
    const ms = Math.round(this.offset * 1000);
    return html`<details @toggle=${this.#toggle}>
      <summary>light and sound together${ms === 0 ? nothing : `: light ${say(ms)}`}</summary>
      <p>With headphones without a wire the sound comes late, and the light runs ahead of it. Play, look at the light, listen,
        and move this until both come together.</p>
      <label>light earlier, later <input type="range" min=${EARLIEST} max=${LATEST} step=${STEP} .value=${live(String(ms))}
        aria-valuetext=${say(ms)} @input=${this.#move} /><output>${say(ms)}</output></label>
      <p class="stated">${told(this.latency())}</p>
      ${ms === 0 ? nothing : html`<button type="button" @click=${() => this.#tell(0)}>As the browser says</button>`}
    </details>`;
  }

  /** What the browser states may change while it plays. @param {Event} event */
  #toggle(event) {
    clearInterval(this.#looking);
    if (/** @type {HTMLDetailsElement} */ (event.currentTarget).open) {
      this.requestUpdate();
      this.#looking = setInterval(() => this.requestUpdate(), LOOK);
    }
  }

  /** @param {Event} event */
  #move(event) {
    this.#tell(Number(/** @type {HTMLInputElement} */ (event.currentTarget).value));
  }

  /** @param {number} ms */
  #tell(ms) {
    this.dispatchEvent(new CustomEvent("offset", { detail: { offset: ms / 1000 }, bubbles: true, composed: true }));
  }
}

/** @param {number} ms @returns {string} */
function say(ms) {
  if (ms === 0) return "as the browser says";
  return `${Math.abs(ms)} ms ${ms > 0 ? "later" : "earlier"}`;
}

/** @param {number | null} latency @returns {string} */
function told(latency) {
  if (latency === null) return "How long the sound takes to your ear is known to the browser when it plays.";
  return `The browser says that the sound takes ${Math.round(latency * 1000)} ms to your ear; that is in the light already.`;
}

customElements.define("gb-offset", GbOffset);
