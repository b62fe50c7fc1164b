/**
 * The lines of one stage with its pillars, and over the chosen stage the counts and the places to work in.
 *
 * In the chosen stage gb-places lies over the picture, for hand, keyboard and screen reader; the others are a picture
 * only (their heading and summary stand beside them). It is given only what it draws, so a stage that stays the same is
 * not drawn anew. `glow(ids)` lights the strands of some strokes without drawing anew.
 *
 * Events: those of gb-places and gb-limbs, and "line" with detail {surface, box} from the name of a line.
 */

import { LitElement, html, nothing, svg } from "lit";
import { guard } from "lit/directives/guard.js";
import { repeat } from "lit/directives/repeat.js";
import { drawCounts, drawPlaces, drawStrokes, layLines } from "../draw/band.js";
import { edgeOf, inkOf } from "../draw/colours.js";
import { drawLanding } from "../draw/landing.js";
import { drawThrough } from "../draw/threads.js";
import { inks } from "./inks.js";
import { linesLook } from "./lines-look.js";
import "./gb-limbs.js";
import "./gb-places.js";

/** @typedef {import("../draw/shapes.js").Stage} Stage @typedef {import("../draw/band.js").Placed} Placed */
/** @typedef {{ stroke: import("../draw/shapes.js").Stroke, to: import("../draw/landing.js").Place | null, both: boolean }} Carried */

export class GbLines extends LitElement {
  static properties = {
    beat: { attribute: false },
    next: { attribute: false },
    stage: { type: Number },
    tall: { type: Boolean, reflect: true },
    axis: { attribute: false },
    grid: { attribute: false },
    grids: { attribute: false },
    lanes: { attribute: false, hasChanged: differ },
    labels: { attribute: false, hasChanged: differ },
    quiet: { attribute: false, hasChanged: differ },
    place: { attribute: false },
    carried: { attribute: false },
    hands: { attribute: false },
    limbs: { attribute: false },
    spots: { attribute: false },
    spot: { type: Number },
    types: { type: Boolean },
    locked: { type: Boolean },
  };

  static styles = [inks, linesLook];

  /** @type {Map<string, Placed>} what was drawn last, by id */
  #drawn = new Map();
  /** @type {import("../draw/band.js").Lines} */
  #lines = layLines({ lanes: [] }, false);
  /** @type {Record<string, string>} labels by surface */
  #names = {};

  constructor() {
    super();
    /** @type {Stage | null} */ this.beat = null;
    /** @type {Stage | null} the stage below */ this.next = null;
    this.stage = 0;
    this.tall = false;
    /** @type {import("../draw/axis.js").Axis | null} */ this.axis = null;
    /** @type {import("../draw/shapes.js").Column[]} */ this.grid = [];
    /** @type {Map<string, import("../draw/shapes.js").Column[]>} of lines with columns of their own */ this.grids = new Map();
    /** @type {string[]} the lines that are shown, from the top */ this.lanes = [];
    /** @type {string[]} what they are called */ this.labels = [];
    /** @type {string[]} the lines that are not heard */ this.quiet = [];
    /** @type {import("../draw/landing.js").Place | null} where the keyboard is */ this.place = null;
    /** @type {Carried | null} */ this.carried = null;
    /** @type {import("./gb-places.js").Hands | null} */ this.hands = null;
    /** @type {Map<string, import("../draw/shapes.js").Limb>} who plays what, by stroke id */ this.limbs = new Map();
    /** @type {import("../draw/shapes.js").Spot[]} what to warn about */ this.spots = [];
    /** which of the spots is looked at, -1 for none */ this.spot = -1;
    /** whether the stroke types are shown */ this.types = false;
    /** whether nothing can be changed here */ this.locked = false;
    /** @type {Map<string, { enters: string, leaves: string }>} */ this.through = new Map();
  }

  /** Put the keyboard on the places. */
  async focusPlace() {
    await this.updateComplete;
    const places = this.places;
    await places?.updateComplete;
    places?.focus();
  }

  /** @returns {import("./gb-places.js").GbPlaces | null} */
  get places() {
    return /** @type {any} */ (this.renderRoot.querySelector("gb-places"));
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

  /** @param {Map<PropertyKey, unknown>} changed */
  willUpdate(changed) {
    const anew = ["lanes", "tall", "types"].some((name) => changed.has(name));
    if (anew) {
      this.#lines = layLines(this, this.tall, this.types);
      this.style.setProperty("--lane", `${this.#lines.lane}px`);
      this.style.setProperty("--above", `${this.#lines.above}px`);
      this.style.setProperty("--below", `${this.#lines.below}px`);
      this.style.setProperty("--under", `${this.#lines.lane - (this.#lines.rise ?? this.#lines.lane)}px`);
    }
    if (changed.has("lanes") || changed.has("labels")) {
      this.#names = Object.fromEntries(this.lanes.map((surface, i) => [surface, this.labels[i]]));
    }
    if (anew || changed.has("axis")) this.#drawn.clear();
  }

  render() {
    const { axis, beat } = this;
    if (!axis || !beat) return nothing;
    const lines = this.#lines;
    const { carried } = this;
    const lands = carried?.to ? { id: carried.stroke.id, ...carried.to, both: carried.both } : null;
    this.through = drawThrough(beat, this.next, lines, axis, lands);
    const strands = [...this.through.values()].map(({ enters, leaves }) => enters + leaves).join("");
    const placed = drawStrokes(beat, lines, axis, this.#drawn);
    this.#drawn = new Map(placed.map((one) => [one.stroke.id, one]));
    return html`
      <div class="labels" aria-hidden=${this.tall ? nothing : "true"}>
        ${this.lanes.map((surface) => this.#label(surface))}
      </div>
      <svg class=${carried ? "picture carrying" : "picture"} width=${axis.width} height=${lines.height} aria-hidden="true">
        ${guard([lines, axis, this.grid, this.grids], () => this.#ground(lines, axis))}
        <path class="strand" d=${strands || "M0 0"}></path>
        <path class="glow" d="M0 0"></path>
        ${repeat(placed, (one) => one.stroke.id, (one) => guard([one, carried?.stroke.id === one.stroke.id], () => this.#stroke(one)))}
        ${carried ? this.#landing(carried, lines, axis) : nothing}
      </svg>
      ${this.tall
        ? html`<gb-places .beat=${beat} .names=${this.#names} .lines=${lines} .axis=${axis} .grid=${this.grid} .grids=${this.grids} .place=${this.place}
            .hands=${this.hands} .limbs=${this.limbs}></gb-places>
          <gb-limbs .beat=${beat} .lines=${lines} .axis=${axis} .limbs=${this.limbs} .spots=${this.spots} .spot=${this.spot} .types=${this.types}
            .locked=${this.locked}></gb-limbs>`
        : nothing}
    `;
  }

  /** What the strokes stand on: lines, bar lines, marks and counts. @param {import("../draw/band.js").Lines} lines @param {import("../draw/axis.js").Axis} axis */
  #ground(lines, axis) {
    const places = drawPlaces(this, lines, axis);
    const feet = [...lines.feet.values()];
    const top = feet.length ? feet[0] - (lines.rise ?? lines.lane) * 0.6 : 0;
    const bottom = feet[feet.length - 1] ?? lines.height;
    return svg`<g>
      ${feet.map((y) => svg`<path class="line" d="M${axis.left} ${y + 0.5}H${axis.right}"/>`)}
      ${axis.bars.map((x) => svg`<path class="bar" d="M${Math.round(x) + 0.5} ${top}V${bottom}"/>`)}
      <path class="beats" d=${places.beats || "M0 0"}></path>
      <path class="between" d=${places.between || "M0 0"}></path>
      ${this.tall && axis.bars.length > 2
        ? axis.bars.slice(0, -1).map((x, i) => svg`<text class="bars" x=${x + 4} y=${lines.height - 3}>bar ${i + 1}</text>`)
        : nothing}
      ${this.tall ? drawCounts(this, axis).map((count) => this.#count(count, lines)) : nothing}
    </g>`;
  }

  /** @param {string} surface */
  #label(surface) {
    const label = this.#names[surface];
    if (!this.tall) return html`<div class="label"><span title=${label}>${label}</span></div>`;
    const quiet = this.quiet.includes(surface);
    return html`<button type="button" class=${quiet ? "label quiet" : "label"} aria-haspopup="dialog"
      aria-label=${quiet ? `${label}, not heard` : `${label}, this line`} @click=${(/** @type {Event} */ event) => this.#line(event, surface)}>
      <span>${label}</span></button>`;
  }

  /** @param {Event} event @param {string} surface */
  #line(event, surface) {
    const box = /** @type {HTMLElement} */ (event.currentTarget).getBoundingClientRect();
    this.dispatchEvent(new CustomEvent("line", { detail: { surface, box }, bubbles: true, composed: true }));
  }

  /** @param {ReturnType<typeof drawCounts>[number]} count @param {import("../draw/band.js").Lines} lines */
  #count({ x, text, at, strong }, lines) {
    return svg`<text class=${strong ? "count strong" : "count"} data-at=${at} x=${x} y=${lines.countY}>${text}</text>`;
  }

  /** @param {Placed} placed */
  #stroke(placed) {
    const { stroke } = placed;
    const origin = inkOf(stroke.origin);
    const changer = edgeOf(stroke);
    const fill = placed.hollow ? `hollow e${origin}` : `f${origin}`;
    const besideFoot = (this.axis?.column ?? 0) >= 26;
    const who = changer ?? (stroke.origin || null);
    const lifted = this.carried?.stroke.id === stroke.id;
    return svg`<g class=${lifted ? "stroke lifted" : "stroke"} data-id=${stroke.id} data-at=${stroke.at} data-surface=${stroke.surface}
      data-dynamic=${stroke.dynamic}>
      <path class=${fill} d=${placed.d}></path>
      ${changer === null ? nothing : svg`<path class="edge e${inkOf(changer)}" d=${placed.edge}></path>`}
      ${placed.accent ? svg`<path class="mark" d=${placed.accent}></path>` : nothing}
      ${placed.grace ? svg`<path class="mark grace" d=${placed.grace}></path>` : nothing}
      ${this.tall && who !== null ? svg`<text class="who f${inkOf(who)}" x=${besideFoot ? placed.middle + placed.width / 2 + 8 : placed.middle}
        y=${besideFoot ? placed.foot - 1 : placed.head - 2.5}>${who}</text>` : nothing}
    </g>`;
  }

  /** A carried stroke where it would land. @param {Carried} carried @param {import("../draw/band.js").Lines} lines @param {import("../draw/axis.js").Axis} axis */
  #landing({ stroke, to }, lines, axis) {
    if (!to) return nothing;
    const { pillar, way, x, foot } = drawLanding(stroke, to, lines, axis);
    const origin = inkOf(stroke.origin);
    return svg`<g class="landing" data-at=${to.at} data-surface=${to.surface}>
      <path class="spot" d="M${x - 9} ${foot}h18"></path>
      ${way ? svg`<path class="way" d=${way}></path>` : nothing}
      <path class=${pillar.hollow ? `hollow e${origin}` : `f${origin}`} d=${pillar.d}></path>
      <path class="edge" d=${pillar.edge}></path>
      ${pillar.accent ? svg`<path class="mark" d=${pillar.accent}></path>` : nothing}
      ${pillar.grace ? svg`<path class="mark grace" d=${pillar.grace}></path>` : nothing}
    </g>`;
  }
}

/** @param {string[]} now @param {string[]} before @returns {boolean} */
function differ(now, before) {
  return now?.length !== before?.length || now.some((one, i) => one !== before[i]);
}

customElements.define("gb-lines", GbLines);
