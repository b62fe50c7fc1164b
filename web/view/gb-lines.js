/**
 * The lines of one stage with its pillars, and over the chosen stage the counts.
 *
 * In the chosen stage the strokes are a list that a screen reader walks through; the others are a picture only (their
 * heading and summary stand beside them). `glow(ids)` lights the strands of some strokes without drawing anew.
 */

import { LitElement, css, html, nothing, svg } from "lit";
import { drawCounts, drawPlaces, drawStrokes, layLines } from "../draw/band.js";
import { edgeOf, inkOf } from "../draw/colours.js";
import { drawThrough } from "../draw/threads.js";
import { inks } from "./inks.js";

/** @typedef {import("../draw/shapes.js").View} View */

export class GbLines extends LitElement {
  static properties = {
    view: { attribute: false },
    stage: { type: Number },
    tall: { type: Boolean, reflect: true },
    axis: { attribute: false },
  };

  static styles = [
    inks,
    css`
      :host { display: grid; grid-template-columns: var(--labels) auto; overflow: visible; }
      .labels {
        position: sticky; left: var(--head); z-index: 2; align-self: end; padding-right: 0.5rem;
        font-size: 0.72rem; line-height: 1.05; color: var(--faint); text-align: right; pointer-events: none;
        padding-block: var(--above) var(--below);
        background: linear-gradient(to right, var(--behind) 80%, transparent);
      }
      :host([tall]) .labels { font-size: var(--label-size); color: var(--soft); }
      .label { height: var(--lane); display: flex; align-items: end; justify-content: flex-end; overflow: hidden; }
      .label span { overflow: hidden; text-overflow: ellipsis; white-space: nowrap; }
      :host([tall]) .label span { white-space: normal; overflow-wrap: anywhere; }
      svg { display: block; overflow: visible; }
      .line { stroke: var(--rule); }
      .bar { stroke: var(--rule-strong); }
      .beats { stroke: var(--rule-strong); stroke-width: 1.5; fill: none; }
      .between { stroke: var(--rule-strong); stroke-width: 3; stroke-linecap: round; fill: none; }
      .strand { stroke: var(--strand); stroke-width: 1; fill: none; }
      .glow { stroke: var(--lamp-strong); stroke-width: 3; stroke-linecap: round; fill: none; }
      .hollow { fill: var(--behind); stroke-width: 1.6; }
      .edge { fill: none; stroke-width: 1.6; }
      :host([tall]) .edge, :host([tall]) .hollow { stroke-width: 2; }
      .mark { fill: none; stroke: var(--ink-0); stroke-width: 1.4; }
      :host([tall]) .mark { stroke-width: 1.8; }
      .grace { stroke-linecap: round; stroke-linejoin: round; }
      :host([tall]) .grace { stroke-width: 2.2; }
      text { font-family: inherit; text-anchor: middle; fill: var(--soft); }
      .count { font-size: 0.85rem; paint-order: stroke; stroke: var(--behind); stroke-width: 5; stroke-linejoin: round; }
      .count.strong { font-weight: 750; font-size: 1.05rem; fill: var(--ink-0); }
      .count.now { fill: var(--lamp-text); font-weight: 750; }
      .bars { font-size: 0.66rem; text-anchor: start; fill: var(--faint); }
      .who { font-size: 0.64rem; font-weight: 650; paint-order: stroke; stroke: var(--behind); stroke-width: 3; }
      @media (forced-colors: active) {
        .line, .bar, .beats, .between { stroke: GrayText; }
        .labels { background: Canvas; color: CanvasText; }
        text { fill: CanvasText; }
      }
    `,
  ];

  constructor() {
    super();
    /** @type {View | null} */ this.view = null;
    this.stage = 0;
    this.tall = false;
    /** @type {import("../draw/axis.js").Axis | null} */ this.axis = null;
    /** @type {Map<string, { enters: string, leaves: string }>} */ this.through = new Map();
  }

  /** Light the strands of these strokes and no others. @param {Set<string>} ids */
  glow(ids) {
    let d = "";
    for (const id of ids) {
      const strand = this.through.get(id);
      if (strand) d += strand.enters + strand.leaves;
    }
    this.renderRoot.querySelector(".glow")?.setAttribute("d", d || "M0 0");
  }

  /** Where the counts begin, in pixels from the top of all stages. @returns {number} */
  get countsTop() {
    const picture = this.renderRoot.querySelector("svg.picture");
    const stack = this.closest(".stack");
    return picture && stack ? picture.getBoundingClientRect().top - stack.getBoundingClientRect().top : 0;
  }

  /** Mark the count that the music is at; null for none. @param {number | null} at ticks of its column */
  mark(at) {
    for (const count of this.renderRoot.querySelectorAll(".count")) {
      count.classList.toggle("now", at !== null && count.getAttribute("data-at") === String(at));
    }
  }

  render() {
    const { view, axis } = this;
    const stage = view?.stages[this.stage];
    if (!view || !axis || !stage) return nothing;
    const lines = layLines(stage, this.tall);
    const next = view.stages[this.stage + 1] ?? null;
    this.through = drawThrough(stage, next, lines, axis);
    const places = drawPlaces(view, lines, axis);
    const strands = [...this.through.values()].map(({ enters, leaves }) => enters + leaves).join("");
    const feet = [...lines.feet.values()];
    const top = feet.length ? feet[0] - lines.lane * 0.6 : 0;
    const bottom = feet[feet.length - 1] ?? lines.height;
    return html`
      <div class="labels" aria-hidden="true">
        ${stage.lanes.map((surface) => this.#label(surface))}
      </div>
      <svg class="picture" width=${axis.width} height=${lines.height} aria-hidden=${this.tall ? nothing : "true"}>
        <g aria-hidden="true">
          ${feet.map((y) => svg`<path class="line" d="M${axis.left} ${y + 0.5}H${axis.right}"/>`)}
          ${axis.bars.map((x) => svg`<path class="bar" d="M${Math.round(x) + 0.5} ${top}V${bottom}"/>`)}
          <path class="beats" d=${places.beats || "M0 0"}></path>
          <path class="between" d=${places.between || "M0 0"}></path>
          <path class="strand" d=${strands || "M0 0"}></path>
          <path class="glow" d="M0 0"></path>
          ${this.tall && view.bars > 1
            ? axis.bars.slice(0, -1).map((x, i) => svg`<text class="bars" x=${x + 4} y=${lines.height - 4}>bar ${i + 1}</text>`)
            : nothing}
          ${this.tall ? drawCounts(view, axis).map((count) => this.#count(count, lines)) : nothing}
        </g>
        <g role=${this.tall ? "list" : nothing} aria-label=${this.tall ? `Strokes of ${stage.heading}` : nothing}>
          ${drawStrokes(stage, lines, axis).map((placed) => this.#stroke(placed))}
        </g>
      </svg>
    `;
  }

  updated() {
    const stage = this.view?.stages[this.stage];
    if (!stage) return;
    const { lane, above, below } = layLines(stage, this.tall);
    this.style.setProperty("--lane", `${lane}px`);
    this.style.setProperty("--above", `${above}px`);
    this.style.setProperty("--below", `${below}px`);
  }

  /** @param {string} surface */
  #label(surface) {
    const label = this.view?.surfaces[surface]?.label ?? surface;
    return html`<div class="label"><span title=${label}>${label}</span></div>`;
  }

  /** @param {ReturnType<typeof drawCounts>[number]} count @param {import("../draw/band.js").Lines} lines */
  #count({ x, text, at, strong }, lines) {
    return svg`<text class=${strong ? "count strong" : "count"} data-at=${at} x=${x} y=${lines.countY}>${text}</text>`;
  }

  /** @param {import("../draw/band.js").Placed} placed */
  #stroke(placed) {
    const { stroke } = placed;
    const origin = inkOf(stroke.origin);
    const changer = edgeOf(stroke);
    const fill = placed.hollow ? `hollow e${origin}` : `f${origin}`;
    const besideFoot = (this.axis?.column ?? 0) >= 26;
    const who = changer ?? (stroke.origin || null);
    return svg`<g class="stroke" role=${this.tall ? "listitem" : nothing} aria-label=${this.tall ? stroke.label : nothing}
      data-id=${stroke.id} data-at=${stroke.at} data-surface=${stroke.surface} data-dynamic=${stroke.dynamic}>
      ${this.tall ? svg`<title>${stroke.label}</title>` : nothing}
      <path class=${fill} d=${placed.d}></path>
      ${changer === null ? nothing : svg`<path class="edge e${inkOf(changer)}" d=${placed.edge}></path>`}
      ${placed.accent ? svg`<path class="mark" d=${placed.accent}></path>` : nothing}
      ${placed.grace ? svg`<path class="mark grace" d=${placed.grace}></path>` : nothing}
      ${this.tall && who !== null ? svg`<text class="who f${inkOf(who)}" aria-hidden="true" x=${besideFoot ? placed.middle + placed.width / 2 + 8 : placed.middle}
        y=${besideFoot ? placed.foot - 1 : placed.foot + 11.5}>${who}</text>` : nothing}
    </g>`;
  }
}

customElements.define("gb-lines", GbLines);
