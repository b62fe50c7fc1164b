/**
 * All stages, one under the other, on one time axis, and the column of light that goes with the music.
 *
 * While `playing`, `clock` is asked once a frame where the music is (light.js). Long beats scroll sideways inside the
 * element, all stages together; the words stay where they are. Arrow keys go from stage to stage.
 *
 * Events: "choose" with detail {stage}, "switch" with detail {key, on, undo}.
 */

import { LitElement, css, html, nothing } from "lit";
import { layAxis } from "../draw/axis.js";
import { inkOf } from "../draw/colours.js";
import { inks } from "./inks.js";
import { Light } from "./light.js";
import "./gb-head.js";
import "./gb-lines.js";
import "./gb-threads.js";

/** @typedef {import("../draw/shapes.js").View} View */
/** @typedef {import("./light.js").Heard} Heard */

/** Below this width (in rem) the words of a stage go above its lines. Our choice. */
const NARROW = 46;
/** Widths in rem of the words' column and of the lines' names. Our choice. */
const HEAD = 16.5;
const LABELS = 5.6;
const LABELS_NARROW = 3.9;
/** Height of the gaps that threads lean in, in pixels. Our choice. */
const GAP = 30;
const GAP_NARROW = 22;

export class GbStages extends LitElement {
  static properties = {
    view: { attribute: false },
    chosen: { type: Number },
    playing: { type: Boolean },
    clock: { attribute: false },
    narrow: { type: Boolean, reflect: true },
    width: { state: true },
  };

  static styles = [inks, css`
    :host { display: block; --behind: var(--paper); --label-size: 0.82rem; }
    :host([narrow]) { --label-size: 0.72rem; }
    .scroller { overflow-x: auto; overflow-y: hidden; }
    .stack { position: relative; width: max-content; min-width: 100%; padding: 0 0 0.5rem; isolation: isolate; }
    section {
      display: grid; grid-template-columns: var(--head) auto; position: relative; overflow: clip;
      border-radius: 0.8rem; background: var(--behind); scroll-margin: 6rem 0 2rem;
    }
    section:not(.chosen) { cursor: pointer; }
    section:not(.chosen):hover { --behind: var(--sunk); }
    section.chosen { --behind: var(--raised); }
    .edge {
      position: absolute; z-index: 4; inset: 0; border: 1.5px solid var(--rule); border-left: 5px solid currentColor; border-radius: 0.8rem; pointer-events: none;
    }
    section.off gb-lines { opacity: 0.5; }
    gb-head { position: sticky; left: 0; z-index: 3; width: var(--head); background: var(--behind); border-radius: 0.8rem; }
    gb-lines { z-index: 1; align-content: center; }
    :host([narrow]) section { grid-template-columns: auto; scroll-margin: 1rem 0 8rem; }
    :host([narrow]) gb-head { width: var(--frame); }
    .light {
      position: absolute; z-index: 1; inset: 0 auto 0 0; width: 3.2rem; margin-left: -1.6rem; visibility: hidden;
      pointer-events: none; will-change: transform; mix-blend-mode: var(--lamp-blend);
      background: linear-gradient(to right, transparent, var(--lamp) 38%, var(--lamp) 62%, transparent);
    }
    .marker {
      position: absolute; z-index: 2; top: 0; left: -7px; width: 0; height: 0; visibility: hidden; pointer-events: none;
      border: 7px solid transparent; border-top: 9px solid var(--lamp-text); border-bottom: 0; will-change: transform;
    }
    .light.on, .marker.on { visibility: visible; }
    @media (forced-colors: active) {
      section.chosen { outline: 2px solid Highlight; outline-offset: -2px; }
      .light { width: 1rem; margin-left: -0.5rem; border-inline: 1px solid Highlight; background: none; mix-blend-mode: normal; }
    }
  `];

  #watch = new ResizeObserver((entries) => {
    this.width = Math.floor(entries[entries.length - 1].contentRect.width);
  });
  #light = new Light();
  #labels = 0;
  /** @type {number | null} where the stage that was just chosen stood, from the top of the window */
  #held = null;
  /** @type {import("../draw/axis.js").Axis | null} */
  #axis = null;

  constructor() {
    super();
    /** @type {View | null} */ this.view = null;
    this.chosen = 0;
    this.playing = false;
    /** @type {() => Heard | null} */ this.clock = () => null;
    this.narrow = false;
    this.width = 0;
  }

  connectedCallback() {
    super.connectedCallback();
    this.#watch.observe(this);
  }

  disconnectedCallback() {
    super.disconnectedCallback();
    this.#watch.disconnect();
    this.#light.stop();
  }

  /** @param {Map<PropertyKey, unknown>} changed */
  willUpdate(changed) {
    if (!changed.has("view") && !changed.has("width")) return;
    const rem = parseFloat(getComputedStyle(document.documentElement).fontSize) || 16;
    this.narrow = this.width < NARROW * rem;
    const head = this.narrow ? 0 : HEAD * rem;
    const labels = (this.narrow ? LABELS_NARROW : LABELS) * rem;
    this.#labels = head + labels;
    this.style.setProperty("--head", `${head}px`);
    this.style.setProperty("--labels", `${labels}px`);
    this.style.setProperty("--frame", `${this.width}px`);
    if (!this.view || !this.width) return;
    this.#axis = layAxis(this.view, this.width - this.#labels);
  }

  render() {
    const view = this.view;
    if (!view || !this.#axis) return nothing;
    return html`<div class="scroller" @keydown=${this.#key}>
      <div class="stack">
        ${view.stages.map((stage) => this.#stage(view, stage))}
        <div class="light"></div>
        <div class="marker"></div>
      </div>
    </div>`;
  }

  /** @param {View} view @param {import("../draw/shapes.js").Stage} stage */
  #stage(view, stage) {
    const i = stage.stage;
    const chosen = i === this.chosen;
    const choose = () => this.#choose(i);
    return html`
      ${i === 0
        ? nothing
        : html`<gb-threads data-stage=${i} .stage=${stage} .axis=${this.#axis}
            .height=${this.narrow ? GAP_NARROW : GAP}></gb-threads>`}
      <section class="${chosen ? "chosen" : ""} ${stage.on ? "" : "off"}" data-stage=${i}
        aria-label=${i === 0 ? stage.heading : `Stage ${i}, ${stage.heading}`}>
        ${chosen ? html`<span class="edge t${inkOf(i)}"></span>` : nothing}
        <gb-head .stage=${stage} .chosen=${chosen} @choose=${choose} @switch=${this.#switch}></gb-head>
        <gb-lines .view=${view} .stage=${i} .tall=${chosen} .axis=${this.#axis}
          @click=${choose}></gb-lines>
      </section>
    `;
  }

  /** @param {Map<PropertyKey, unknown>} changed */
  updated(changed) {
    if (changed.get("chosen") !== undefined && !changed.has("view")) this.#stayInSight();
    if (!changed.has("playing")) return;
    if (!this.playing) this.#light.stop();
    else this.#light.start(() => this.clock(), () => this.#scene());
  }

  /** A stage that was chosen stays under the hand that chose it, though others above it grow or shrink. */
  async #stayInSight() {
    await Promise.all([...this.renderRoot.querySelectorAll("gb-head, gb-lines")].map((part) =>
      /** @type {LitElement} */ (part).updateComplete));
    const section = this.renderRoot.querySelector("section.chosen");
    if (!section) return;
    if (this.#held !== null) window.scrollBy(0, section.getBoundingClientRect().top - this.#held);
    this.#held = null;
    section.scrollIntoView({ block: "nearest", inline: "nearest" });
  }

  #scene() {
    if (!this.view || !this.#axis) return null;
    return { root: this.renderRoot, view: this.view, axis: this.#axis, chosen: this.chosen, labels: this.#labels };
  }

  /** @param {number} stage */
  #choose(stage) {
    this.#held = this.renderRoot.querySelectorAll("section")[stage]?.getBoundingClientRect().top ?? null;
    if (stage !== this.chosen) this.dispatchEvent(new CustomEvent("choose", { detail: { stage } }));
  }

  /** @param {CustomEvent} event */
  #switch(event) {
    this.dispatchEvent(new CustomEvent("switch", { detail: event.detail }));
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    const step = { ArrowUp: -1, PageUp: -1, ArrowDown: 1, PageDown: 1 }[event.key];
    const count = this.view?.stages.length ?? 0;
    if (!step || !count || event.altKey || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    const stage = Math.min(count - 1, Math.max(0, this.chosen + step));
    this.#choose(stage);
    const heads = this.renderRoot.querySelectorAll("gb-head");
    /** @type {HTMLElement} */ (heads[stage])?.focus();
  }
}

customElements.define("gb-stages", GbStages);
