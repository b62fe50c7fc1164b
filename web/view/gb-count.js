/**
 * A pad that counts strokes: the first one starts the clock, and after some seconds the number is told.
 *
 * A stroke is a touch, a press of the mouse, or any key while the pad has the keyboard. When the time is over the pad
 * takes no more strokes, for fast hands go on; only "Once more" makes it ready again.
 *
 * Events: "counted" with detail {count}.
 */

import { LitElement, css, html, nothing } from "lit";
import { controls } from "./inks.js";

/** Keys that are no strokes: they lead away, or do nothing alone. */
const NO_STROKE = new Set(["Tab", "Escape", "Shift", "Control", "Alt", "AltGraph", "Meta", "CapsLock", "Dead", "Unidentified"]);
/** Milliseconds between two looks at the clock. Our choice. */
const LOOK = 200;

export class GbCount extends LitElement {
  static properties = {
    limb: { type: String },
    seconds: { type: Number },
    fewest: { type: Number },
    phase: { state: true },
    count: { state: true },
    gone: { state: true },
  };

  static styles = [
    controls,
    css`
      :host { display: block; padding: 0.4rem 0 0.2rem; }
      .pad {
        display: grid; place-items: center; align-content: center; gap: 0.25rem; width: 100%; min-height: 9.5rem; border: 2px solid var(--rule-strong); border-radius: 1rem;
        background: var(--sunk); touch-action: none; user-select: none; -webkit-user-select: none; line-height: 1.25;
      }
      .pad[aria-disabled="true"] { cursor: default; opacity: 0.8; border-style: dashed; }
      .count { font-size: 2.6rem; font-weight: 750; line-height: 1; font-variant-numeric: tabular-nums; }
      progress { width: 100%; height: 0.6rem; margin-top: 0.4rem; accent-color: var(--ink-0); }
      p { margin: 0.3rem 0; line-height: 1.4; }
    `,
  ];

  /** When the first stroke came, on the clock of events. */
  #start = 0;
  /** @type {ReturnType<typeof setInterval> | undefined} */
  #clock;

  constructor() {
    super();
    this.limb = "";
    this.seconds = 10;
    /** the least number that can be meant */ this.fewest = 0;
    /** @type {"ready" | "counting" | "done"} */ this.phase = "ready";
    this.count = 0;
    /** milliseconds */ this.gone = 0;
  }

  disconnectedCallback() {
    super.disconnectedCallback();
    clearInterval(this.#clock);
  }

  /** Put the keyboard on the pad. */
  focus() {
    /** @type {HTMLElement | null} */ (this.renderRoot.querySelector(".pad"))?.focus();
  }

  render() {
    const { phase, count, seconds, limb } = this;
    const left = Math.max(0, Math.ceil(seconds - this.gone / 1000));
    const done = phase === "done";
    return html`<button type="button" class="pad" aria-disabled=${done ? "true" : "false"} aria-describedby="how"
        @pointerdown=${this.#touch} @keydown=${this.#key} @contextmenu=${(/** @type {Event} */ e) => e.preventDefault()}>
        <span>Pad for the ${limb}</span>
        <span class="count" aria-hidden="true">${count}</span>
        <span aria-hidden="true">${done ? "The time is over." : `${left} s`}</span>
      </button>
      <p id="how" class=${phase === "ready" ? "" : "unseen"}>Tap it, or press any key. The first stroke starts the ${seconds} seconds.</p>
      ${phase === "counting" ? html`<progress max=${seconds * 1000} .value=${Math.min(seconds * 1000, this.gone)} aria-label="Time"></progress>` : nothing}
      <p role="status">${done ? this.#result() : ""}</p>
      ${done ? html`<button type="button" @click=${this.#again}>Once more</button>` : nothing}`;
  }

  #result() {
    const { count, seconds, fewest } = this;
    const strokes = `${count} ${count === 1 ? "stroke" : "strokes"} in ${seconds} seconds.`;
    return count < fewest ? `${strokes} At least ${fewest} are needed to tell anything.` : strokes;
  }

  /** @param {PointerEvent} event */
  #touch(event) {
    if (event.button === 0) this.#stroke(event.timeStamp);
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    if (event.key === "Escape" && this.phase === "counting") {
      event.preventDefault(); // it ends the counting, not the dialog
      event.stopPropagation();
      this.#again();
      return;
    }
    if (NO_STROKE.has(event.key) || event.ctrlKey || event.altKey || event.metaKey) return;
    event.preventDefault();
    if (!event.repeat) this.#stroke(event.timeStamp);
  }

  /** @param {number} time in milliseconds */
  #stroke(time) {
    if (this.phase === "done") return;
    if (this.phase === "ready") {
      this.phase = "counting";
      this.#start = time;
      this.#clock = setInterval(() => this.#look(), LOOK);
    }
    if (time - this.#start < this.seconds * 1000) this.count += 1;
    else this.#look();
  }

  #look() {
    this.gone = performance.now() - this.#start;
    if (this.gone < this.seconds * 1000) return;
    clearInterval(this.#clock);
    this.phase = "done";
    if (this.count >= this.fewest) this.dispatchEvent(new CustomEvent("counted", { detail: { count: this.count } }));
  }

  #again() {
    clearInterval(this.#clock);
    this.phase = "ready";
    this.count = 0;
    this.gone = 0;
    this.focus();
  }
}

customElements.define("gb-count", GbCount);
