/**
 * The chosen stage on a staff, as the engine writes it, below its sentence; switched on where it is wished for.
 *
 * `find` asks the engine for a drawing of so many staff spaces; `basis` says of what it is a drawing, so that another
 * one is asked for when it changes. Until that has come the one before stands. While `playing`, `clock` is asked once a
 * frame what sounds, and its strokes light up; with reduced motion they do not, as nothing glows then.
 *
 * Events: "staff-set" with detail {on, counts, sticking}.
 */

import { LitElement, css, html, nothing } from "lit";
import { readDrawing } from "./drawing.js";
import { controls } from "./inks.js";
import { Lit } from "./lit.js";

/** Pixels of a staff space, and where there is little room (in pixels). Our choice. */
const SPACE = 9;
const SPACE_NARROW = 8;
const NARROW = 560;
/** The least that the engine draws, in staff spaces (bridge/staff_view.py). */
const LEAST = 20;
/** Milliseconds in which a width or a beat that changes again is not drawn. Our choice. */
const CALM = 120;

/** @typedef {{ on: boolean, counts: boolean, sticking: boolean }} Look */

export class GbStaff extends LitElement {
  static properties = {
    look: { attribute: false },
    basis: { type: String },
    stage: { type: Number },
    view: { attribute: false },
    playing: { type: Boolean },
    off: { type: Boolean },
    find: { attribute: false, hasChanged: () => false },
    clock: { attribute: false, hasChanged: () => false },
    width: { state: true },
    drawing: { state: true },
    says: { state: true },
    trouble: { state: true },
  };

  static styles = [
    controls,
    css`
      :host { display: block; margin-top: 0.5rem; }
      .how { display: flex; flex-wrap: wrap; gap: 0 1.2rem; }
      .room { min-height: 1px; }
      .drawing { padding: 0.5rem 0; overflow-x: auto; }
      svg { display: block; max-width: 100%; height: auto; color: var(--ink-0); forced-color-adjust: auto; }
      .stroke.lit { fill: var(--lamp-text); stroke: var(--lamp-text); stroke-width: 55; }
      p { margin: 0.2rem 0; color: var(--soft); line-height: 1.4; }
      @media (forced-colors: active) {
        svg { color: CanvasText; }
        .stroke.lit { fill: Highlight; stroke: Highlight; }
      }
    `,
  ];

  #watch = new ResizeObserver((entries) => {
    this.width = Math.floor(entries[entries.length - 1].contentRect.width);
  });
  #still = matchMedia("(prefers-reduced-motion: reduce)");
  #lit = new Lit();
  #shown = "";
  #frame = 0;
  #timer = 0;
  /** What was asked for last; a refusal is not asked for again until it is switched off and on, or the beat changes. */
  #asked = "";

  constructor() {
    super();
    /** @type {Look} */ this.look = { on: false, counts: true, sticking: false };
    this.basis = "";
    this.stage = 0;
    /** @type {import("../draw/shapes.js").View | null} */ this.view = null;
    this.playing = false;
    /** whether the engine can't be asked now */ this.off = false;
    /** @type {(how: { width: number, space: number, counts: boolean, sticking: boolean }) => Promise<any>} */ this.find = async () => ({});
    /** @type {() => import("./light.js").Heard | null} */ this.clock = () => null;
    this.width = 0;
    /** @type {SVGSVGElement | null} */ this.drawing = null;
    /** @type {string[]} */ this.says = [];
    this.trouble = "";
  }

  disconnectedCallback() {
    super.disconnectedCallback();
    this.#watch.disconnect();
    this.#end();
    clearTimeout(this.#timer);
  }

  render() {
    const { on, counts, sticking } = this.look;
    return html`<div class="how">
        ${this.#tick("on", "Staff", on)}
        ${on ? html`${this.#tick("counts", "with counts", counts)}${this.#tick("sticking", "with sticking", sticking)}` : nothing}
      </div>
      ${on
        ? html`<div class="room"></div>
          ${this.trouble ? html`<p role="alert">${this.trouble}</p>` : html`<div class="drawing">${this.drawing ?? html`<p>Drawing it …</p>`}</div>`}
          ${this.says.map((text) => html`<p>${text}</p>`)}`
        : nothing}`;
  }

  /** @param {keyof Look} name @param {string} text @param {boolean} on */
  #tick(name, text, on) {
    return html`<label class="tick"><input type="checkbox" .checked=${on} @change=${(/** @type {Event} */ e) => {
      const { checked } = /** @type {HTMLInputElement} */ (e.currentTarget);
      this.dispatchEvent(new CustomEvent("staff-set", { detail: { ...this.look, [name]: checked } }));
    }} /> ${text}</label>`;
  }

  updated() {
    const room = this.renderRoot.querySelector(".room");
    if (room) this.#watch.observe(room);
    else this.#watch.disconnect();
    this.#ask();
    const running = this.playing && this.look.on && !this.#still.matches;
    if (running && !this.#frame) this.#step();
    else if (!running) this.#end();
  }

  #ask() {
    const { on, counts, sticking } = this.look;
    if (!on || !this.width || this.off) return;
    const space = this.width < NARROW ? SPACE_NARROW : SPACE;
    const width = Math.max(LEAST, Math.floor(this.width / space));
    const wish = `${this.basis} ${width} ${space} ${counts} ${sticking}`;
    if (wish === this.#asked) return;
    const first = !this.#asked;
    this.#asked = wish;
    clearTimeout(this.#timer);
    this.#timer = window.setTimeout(async () => {
      const told = await this.find({ width, space, counts, sticking });
      if (wish !== this.#asked) return; // a newer one is on its way
      const drawing = told.svg ? readDrawing(told.svg) : null;
      this.trouble = drawing ? "" : told.trouble || "The engine drew no staff. Switch it off and on to try again.";
      this.drawing = drawing;
      this.says = told.says ?? [];
      this.#shown = "";
    }, first ? 0 : CALM);
  }

  #step() {
    this.#frame = requestAnimationFrame(() => this.#step());
    this.#light(this.clock());
  }

  #end() {
    cancelAnimationFrame(this.#frame);
    this.#frame = 0;
    this.#light(null);
  }

  /** @param {import("./light.js").Heard | null} heard */
  #light(heard) {
    const key = heard ? `${heard.stage}|${heard.ids.join("|")}` : "";
    if (key === this.#shown || !this.view || !this.drawing) return;
    this.#shown = key;
    const lit = this.#lit.of(this.view, heard)[this.stage];
    for (const group of this.drawing.querySelectorAll("g.stroke")) {
      group.classList.toggle("lit", lit?.has(group.getAttribute("data-id") ?? "") ?? false);
    }
  }

  /** @param {Map<PropertyKey, unknown>} changed */
  willUpdate(changed) {
    if (changed.has("look") && !this.look.on) {
      this.#asked = "";
      this.drawing = null;
      this.trouble = "";
      this.says = [];
    }
  }
}

customElements.define("gb-staff", GbStaff);
