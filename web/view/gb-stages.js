/**
 * All stages, one under the other, on one time axis, and the column of light that goes with the music.
 *
 * While `playing`, `clock` is asked once a frame where the music is (light.js). Long beats scroll sideways inside the
 * element, all stages together; the words stay where they are. Arrow keys go from stage to stage; on the places of the
 * chosen stage they walk over these (gb-places.js). After a change the keyboard stays on the place where it was.
 *
 * Longer than most: it is where the stages, the menus and the place of the keyboard meet.
 *
 * Events: "choose" with detail {stage}, "switch" with detail {key, on, undo}, "edit" with detail {change, done}: the page
 * calls done() when the change is made or refused; "hear" with detail {muted, soloed}; "spot" with detail {spot}.
 */

import { LitElement, html, nothing } from "lit";
import { layAxes } from "../draw/axis.js";
import { frameOf, framesOf } from "../draw/frame.js";
import { inkOf } from "../draw/colours.js";
import { controls, inks } from "./inks.js";
import { Holding } from "./holding.js";
import { Light } from "./light.js";
import { OwnColumns } from "./own-columns.js";
import { Pinning } from "./pinning.js";
import { Pushing } from "./pushing.js";
import { stagesLook } from "./stages-look.js";
import { sayLimb, tellChange, tellWay } from "./telling.js";
import "./gb-head.js";
import "./gb-line-menu.js";
import "./gb-lines.js";
import "./gb-stroke-bar.js";
import "./gb-stroke-menu.js";
import "./gb-threads.js";

/** @typedef {import("../draw/shapes.js").View} View @typedef {import("../draw/shapes.js").Stage} Stage */
/** @typedef {import("../draw/landing.js").Place} Place */
/** @typedef {import("./light.js").Heard} Heard */
/** @typedef {import("./gb-lines.js").GbLines} GbLines */

/** Below this width (in rem) the words of a stage go above its lines. Our choice. */
const NARROW = 46;
/** Widths in rem of the words' column and of the lines' names. Our choice. */
const HEAD = 16.5;
const LABELS = 5.6;
const LABELS_NARROW = 3.9;
/** Height of the gaps that threads lean in, in pixels. Our choice. */
const GAP = 30;
const GAP_NARROW = 22;
/** Of a stage with a frame of its own, in which no line has columns of its own. @type {Map<string, import("../draw/shapes.js").Column[]>} */
const NONE = new Map();
/** Of a stage of which nothing is known yet. @type {Map<string, import("../draw/shapes.js").Limb>} */
const NOBODY = new Map();
/** @type {import("../draw/shapes.js").Spot[]} */
const NO_SPOTS = [];

export class GbStages extends LitElement {
  static properties = {
    view: { attribute: false },
    chosen: { type: Number },
    playing: { type: Boolean },
    led: { type: Boolean },
    clock: { attribute: false, hasChanged: never },
    hands: { attribute: false },
    findKit: { attribute: false, hasChanged: never },
    findColumns: { attribute: false, hasChanged: never },
    muted: { attribute: false },
    soloed: { attribute: false },
    known: { attribute: false },
    home: { attribute: false },
    types: { type: Boolean },
    spot: { type: Number },
    narrow: { type: Boolean, reflect: true },
    width: { state: true },
    place: { state: true },
    carried: { state: true },
    said: { state: true },
    kit: { state: true },
  };

  static styles = [inks, controls, stagesLook];

  #watch = new ResizeObserver((entries) => {
    this.width = Math.floor(entries[entries.length - 1].contentRect.width);
  });
  #light = new Light();
  #labels = 0;
  #holding = new Holding();
  /** @type {import("../draw/axis.js").Axis[] | null} by the frames of the stages */
  #axes = null;
  /** What the axis was laid out from: while it stays the same, so does the axis, and all that stands on it. */
  #laid = "";
  #refocus = false;
  /** @type {any[]} changes that wait for the one before them; quick hands are quicker than the engine */
  #waiting = [];
  #pushing = new Pushing(() => this.#lines?.places?.moveAgain());
  #pinning = new Pinning();
  /** Who plays what in the chosen stage, by stroke id. */
  #limbs = NOBODY;
  #own = new OwnColumns((columns) => this.findColumns(columns), () => this.requestUpdate());
  /** @type {Map<string, import("../draw/shapes.js").Column[]>} the places of lines with columns of their own */
  #grids = new Map();
  /** @type {View | null} the view of which the changes were last told; a glimpse of a new one has the old document */
  #told = null;

  constructor() {
    super();
    /** @type {View | null} */ this.view = null;
    this.chosen = 0;
    this.playing = false;
    /** whether the sound chooses the stage, by turns or through them all */ this.led = false;
    /** @type {() => Element | null} what steers the sound then, and must stay on the screen */ this.steered = () => null;
    /** @type {() => Heard | null} */ this.clock = () => null;
    /** @type {import("./gb-places.js").Hands | null} */ this.hands = null;
    /** @type {() => Promise<{ kit?: string[] }>} */ this.findKit = async () => ({});
    /** @type {(columns: string) => Promise<any>} */ this.findColumns = async () => null;
    /** @type {string[]} all surfaces of the kit, once they were asked for */ this.kit = [];
    /** @type {string[]} */ this.muted = [];
    /** @type {string[]} */ this.soloed = [];
    /** @type {import("../draw/shapes.js").Playing | null} what is known of playing the chosen stage */ this.known = null;
    /** @type {ReadonlyMap<number, import("../draw/shapes.js").Home>} by the keys of the stages */ this.home = new Map();
    /** whether the stroke types are shown */ this.types = false;
    /** which of the spots is looked at, -1 for none */ this.spot = -1;
    this.narrow = false;
    this.width = 0;
    /** @type {Place | null} where the keyboard is on the chosen stage, or was */ this.place = null;
    /** @type {import("./gb-lines.js").Carried | null} */ this.carried = null;
    this.said = "";
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
    if (changed.has("view") || changed.has("chosen")) {
      this.carried = null;
      this.#refocus ||= this.#inPlaces();
    }
    if (this.view && this.view.document !== this.#told?.document) {
      if (this.#told) this.said = tellChange(this.#told, this.view);
      this.#told = this.view;
    }
    if (changed.has("known")) {
      this.#limbs = this.known ? new Map(this.known.limbs.map((limb) => [limb.id, limb])) : NOBODY;
      this.#pinning.learn(this.#limbs.values());
    }
    const grids = this.view ? this.#own.grids(this.view) : this.#grids;
    if (!changed.has("view") && !changed.has("width") && grids === this.#grids) return;
    this.#grids = grids;
    const rem = parseFloat(getComputedStyle(document.documentElement).fontSize) || 16;
    this.narrow = this.width < NARROW * rem;
    const head = this.narrow ? 0 : HEAD * rem;
    const labels = (this.narrow ? LABELS_NARROW : LABELS) * rem;
    this.#labels = head + labels;
    if (!this.view || !this.width) return;
    const frames = framesOf(this.view).map(({ cycle, bars, bar_ticks, grid }) => [cycle, bars, bar_ticks, grid[1]?.at]);
    const laid = [this.width, head, labels, ...frames, ...[...grids.values()].map((one) => one[1]?.at)].join(" ");
    if (laid === this.#laid) return;
    this.#laid = laid;
    this.style.setProperty("--head", `${head}px`);
    this.style.setProperty("--labels", `${labels}px`);
    this.style.setProperty("--frame", `${this.width}px`);
    this.#axes = layAxes(this.view, this.width - this.#labels, [...grids.values()]);
  }

  render() {
    const view = this.view;
    if (!view || !this.#axes) return nothing;
    const lanes = this.#lanes(view, this.chosen);
    return html`<div class="scroller" @keydown=${this.#key} @edit=${this.#hearEdit} @carry=${this.#carry} @place=${this.#walk}
        @menu=${this.#menu} @line=${this.#line} @add-line=${this.#line} @stage=${this.#page} @hand=${this.#hand} @spot=${this.#spot}>
        <div class="stack">
          ${view.stages.map((stage) => this.#stage(view, stage, lanes))}
          <div class="light"></div>
          <div class="marker"></div>
        </div>
      </div>
      <gb-stroke-menu .stroke=${this.#strokeAt(this.place)} @shape=${this.#shape} @out=${this.#out} @closed=${this.#closed}></gb-stroke-menu>
      <gb-line-menu .kit=${this.kit} .shown=${lanes} .silent=${view.lines} .muted=${this.muted} .soloed=${this.soloed}
        .fits=${view.fits} .columnsOf=${(/** @type {string} */ surface) => this.#own.of(surface, view)}
        @columns=${(/** @type {CustomEvent} */ e) => this.#own.pick(e.detail.surface, e.detail.columns)}
        @hear=${this.#hear} @line=${this.#show} @closed=${this.#closed}></gb-line-menu>
      <p class="unseen told" role="status">${this.said}</p>`;
  }

  /** The lines of a stage; the chosen one also shows those that are silent. @param {View} view @param {number} stage */
  #lanes(view, stage) {
    const lanes = view.stages[stage]?.lanes ?? [];
    if (stage !== this.chosen) return lanes;
    return [...new Set([...lanes, ...view.lines])].sort((a, b) => view.surfaces[a].row - view.surfaces[b].row);
  }

  /** @param {View} view @param {Stage} stage @param {string[]} shown lines of the chosen stage */
  #stage(view, stage, shown) {
    const i = stage.stage;
    const chosen = i === this.chosen;
    const choose = () => this.#choose(i);
    const lanes = chosen ? shown : stage.lanes;
    const axis = this.#axes?.[stage.frame];
    return html`
      ${i === 0
        ? nothing
        : html`<gb-threads data-stage=${i} .stage=${stage} .axis=${axis} .pull=${this.#pull(i)}
            .height=${this.narrow ? GAP_NARROW : GAP}></gb-threads>`}
      <section class="${chosen ? "chosen" : ""} ${stage.on ? "" : "off"}" data-stage=${i}
        aria-label=${i === 0 ? stage.heading : `Stage ${i}, ${stage.heading}`}>
        ${chosen ? html`<span class="edge t${inkOf(i)}"></span>` : nothing}
        <gb-head .stage=${stage} .chosen=${chosen} .home=${this.home.get(stage.key) ?? null} @choose=${choose} @switch=${this.#switch}></gb-head>
        <gb-lines .beat=${stage} .next=${view.stages[i + 1] ?? null} .stage=${i} .tall=${chosen} .axis=${axis} .grid=${frameOf(view, i).grid} .grids=${stage.frame ? NONE : this.#grids}
          .lanes=${lanes} .labels=${lanes.map((surface) => view.surfaces[surface].label)} .quiet=${chosen ? this.#quiet(lanes) : []}
          .place=${chosen ? this.place : null} .carried=${chosen ? this.carried : null} .hands=${this.hands} .limbs=${chosen ? this.#limbs : NOBODY} .spots=${(chosen && this.known?.spots) || NO_SPOTS}
          .spot=${chosen ? this.spot : -1} .types=${chosen && this.types} .locked=${view.newer !== null} @click=${choose}></gb-lines>
        ${chosen
          ? html`<gb-stroke-bar .text=${this.#words()} .base=${i === 0} .narrow=${this.narrow} .stroke=${this.#strokeAt(this.place) !== null}></gb-stroke-bar>
            <div class="words"><slot name="words"></slot></div>`
          : nothing}
      </section>
    `;
  }

  /** @param {string[]} lanes @returns {string[]} those that are not heard */
  #quiet(lanes) {
    return lanes.filter((one) => this.muted.includes(one) || (this.soloed.length > 0 && !this.soloed.includes(one)));
  }

  /** The thread in the gap above a stage that follows the carried stroke. @param {number} stage @returns {import("../draw/threads.js").Pull | null} */
  #pull(stage) {
    const { carried } = this;
    if (!carried?.to) return null;
    const { id } = carried.stroke;
    if (stage === this.chosen + 1) return { id, at: carried.to.at, end: "from" };
    return stage === this.chosen && carried.both ? { id, at: carried.to.at, end: "to" } : null;
  }

  /** @param {Place | null} place @returns {import("../draw/shapes.js").Stroke | null} */
  #strokeAt(place) {
    if (!place) return null;
    const strokes = this.view?.stages[this.chosen]?.strokes ?? [];
    return strokes.find((stroke) => stroke.at === place.at && stroke.surface === place.surface) ?? null;
  }

  /** What the bar under the chosen stage says. @returns {string} */
  #words() {
    const { carried, place, view } = this;
    if (!view) return "";
    if (carried) return carried.to ? tellWay(carried.stroke, carried.to, this.#name(carried.stroke), this.#name(carried.to)) : "Let go out here and nothing changes.";
    if (!place || !(place.surface in view.surfaces)) return "";
    const stroke = this.#strokeAt(place);
    if (!stroke) return `${this.#name(place).join(", ")}, empty`;
    return [stroke.label, sayLimb(this.#limbs.get(stroke.id), stroke)].filter(Boolean).join(", ");
  }

  /** @param {Place} place @returns {string[]} its line, and where on it */
  #name({ surface, at }) {
    const grid = [...(this.#grids.get(surface) ?? []), ...(this.view ? frameOf(this.view, this.chosen).grid : [])];
    const spoken = grid.find((column) => column.at === at)?.place;
    return [this.view?.surfaces[surface]?.label ?? surface, spoken ?? "between two columns"];
  }

  /** @param {Map<PropertyKey, unknown>} changed */
  updated(changed) {
    if (changed.get("chosen") !== undefined && this.led && !this.#holding.holds) this.#holding.follow(this.renderRoot, this.steered());
    else if (changed.get("chosen") !== undefined) this.#holding.stayInSight(this.renderRoot, !changed.has("view"));
    else if (changed.has("view") && this.#holding.holds) this.#holding.stayInSight(this.renderRoot, false);
    if (this.#refocus) {
      this.#refocus = false;
      this.#lines?.focusPlace();
    }
    if (!changed.has("playing")) return;
    if (!this.playing) this.#light.stop();
    else this.#light.start(() => this.clock(), () => this.#scene());
  }

  /** @returns {GbLines | null} of the chosen stage */
  get #lines() {
    return /** @type {GbLines | null} */ (this.renderRoot.querySelector("section.chosen gb-lines"));
  }

  /** @returns {boolean} whether the keyboard is on a place */
  #inPlaces() {
    const inside = this.renderRoot instanceof ShadowRoot ? this.renderRoot.activeElement : null;
    return inside?.localName === "gb-lines" && inside.shadowRoot?.activeElement?.localName === "gb-places";
  }

  #scene() {
    if (!this.view || !this.#axes) return null;
    return { root: this.renderRoot, view: this.view, axis: this.#axes[0], chosen: this.chosen, labels: this.#labels };
  }

  /** @param {number} stage */
  #choose(stage) {
    this.#holding.hold(this.renderRoot, `section[data-stage="${stage}"]`);
    if (stage !== this.chosen) this.dispatchEvent(new CustomEvent("choose", { detail: { stage } }));
  }

  /** @param {CustomEvent} event */
  #switch(event) {
    this.dispatchEvent(new CustomEvent("switch", { detail: event.detail }));
  }

  /** @param {CustomEvent} event from the places */
  #hearEdit(event) {
    event.stopPropagation();
    this.#edit(event.detail.change);
  }

  /** @param {any} change */
  #edit(change) {
    this.#pushing.stop();
    this.#waiting.push(change);
    if (this.#waiting.length === 1) this.#send(change);
  }

  /** @param {any} change */
  #send(change) {
    this.#holding.hold(this.renderRoot, "section.chosen gb-lines");
    const inside = this.matches(":focus-within");
    const done = async (/** @type {boolean} */ made) => {
      this.carried = null;
      if (!made) this.#holding.release();
      if (!made && change.ask === "drag") this.place = { surface: change.surface, at: change.at };
      this.#waiting.shift();
      const [next] = this.#waiting;
      // What was meant for the chosen stage is meant for the one that the change before it has chosen.
      if (next) this.#send("stage" in next ? { ...next, stage: this.chosen } : next);
      await this.updateComplete;
      // What had the keyboard may be gone with the change.
      if (inside && document.activeElement === document.body) this.#lines?.focusPlace();
    };
    this.dispatchEvent(new CustomEvent("edit", { detail: { change, done } }));
  }

  /** @param {CustomEvent} event */
  #carry(event) {
    const { stroke, to, point } = event.detail;
    const stage = this.view?.stages[this.chosen];
    const before = this.carried;
    if (!stroke || !stage) {
      this.carried = null;
    } else if (before?.stroke !== stroke || before?.to?.at !== to?.at || before?.to?.surface !== to?.surface || before?.to?.over !== to?.over) {
      const own = stage.kind === "displace" && stage.threads.some(({ id, fate }) => id === stroke.id && fate === "moved");
      this.carried = { stroke, to, both: stage.stage === 0 || own };
      if (!point) this.said = this.#words();
    }
    this.#pushing.push(stroke && point, this.renderRoot.querySelector(".scroller"), this.#labels);
  }

  /** @param {CustomEvent} event */
  #walk(event) {
    this.place = event.detail.place;
  }

  /** @param {CustomEvent} event */
  #menu(event) {
    this.place = event.detail.place ?? this.place;
    const menu = /** @type {import("./gb-stroke-menu.js").GbStrokeMenu | null} */ (this.renderRoot.querySelector("gb-stroke-menu"));
    this.updateComplete.then(() => menu?.open(event.detail.box));
  }

  /** @param {CustomEvent} event from the name of a line, or without one from "Add a line" */
  async #line(event) {
    if (!this.kit.length && !event.detail.surface) this.kit = (await this.findKit()).kit ?? [];
    await this.updateComplete;
    const menu = /** @type {import("./gb-line-menu.js").GbLineMenu | null} */ (this.renderRoot.querySelector("gb-line-menu"));
    menu?.open(event.detail.box, event.detail.surface);
  }

  /** @param {CustomEvent} event */
  #shape(event) {
    if (this.place) this.#edit({ ask: "shape", stage: this.chosen, ...this.place, ...event.detail });
  }

  /** Another hand for a stroke, or none of its own. @param {CustomEvent} event */
  #hand(event) {
    event.stopPropagation();
    const { stroke } = event.detail;
    const { surface, at } = stroke;
    const value = this.view?.newer ? null : this.#pinning.next(stroke, this.#limbs.get(stroke.id));
    if (value === null) return;
    this.place = { surface, at };
    this.#edit({ ask: "shape", stage: this.chosen, surface, at, quality: "hand", value });
  }

  /** @param {CustomEvent} event */
  #spot(event) {
    event.stopPropagation();
    this.dispatchEvent(new CustomEvent("spot", { detail: event.detail }));
  }

  #out() {
    /** @type {import("./gb-stroke-menu.js").GbStrokeMenu | null} */ (this.renderRoot.querySelector("gb-stroke-menu"))?.close();
    if (this.place) this.#edit({ ask: "tap", stage: this.chosen, ...this.place });
  }

  /** A menu has closed: the keyboard goes back to the place, unless a hand has put it elsewhere. */
  #closed() {
    const inside = this.renderRoot instanceof ShadowRoot ? this.renderRoot.activeElement : null;
    if (document.activeElement === document.body || inside?.localName.endsWith("-menu")) this.#lines?.focusPlace();
  }

  /** @param {CustomEvent} event */
  #hear(event) {
    this.dispatchEvent(new CustomEvent("hear", { detail: event.detail }));
  }

  /** @param {CustomEvent} event */
  #show(event) {
    this.#edit({ ask: "line", ...event.detail });
  }

  /** @param {CustomEvent} event */
  #page(event) {
    const stage = this.chosen + event.detail.by;
    if (this.view?.stages[stage]) this.#choose(stage);
  }

  /** The sentence stands in the chosen stage but has keys of its own. @param {Event} event @returns {boolean} */
  #isInWords(event) {
    return event.composedPath().some((one) => one instanceof HTMLSlotElement);
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    const step = { ArrowUp: -1, PageUp: -1, ArrowDown: 1, PageDown: 1 }[event.key];
    const count = this.view?.stages.length ?? 0;
    if (!step || !count || event.defaultPrevented || this.#isInWords(event) || event.shiftKey || event.altKey || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    const stage = Math.min(count - 1, Math.max(0, this.chosen + step));
    this.#choose(stage);
    const heads = this.renderRoot.querySelectorAll("gb-head");
    /** @type {HTMLElement} */ (heads[stage])?.focus();
  }
}

/** What is only asked, and not drawn, draws nothing anew. @returns {boolean} */
function never() {
  return false;
}

customElements.define("gb-stages", GbStages);
