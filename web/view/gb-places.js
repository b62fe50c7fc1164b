/**
 * The places of the chosen stage: what the hand taps and carries, the keyboard walks over and a screen reader reads.
 *
 * It lies over the picture and shows nothing but a soft mark under the hand and the ring of the keyboard. A grid of rows
 * and cells, one a place; a stroke between two columns has a cell of its own. The cells are made by hand and not by a
 * template, for there are many: only what changed is touched, so the one with the keyboard keeps it.
 *
 * Longer than most: reading gestures, keys and carried strokes all turn on the same cells.
 *
 * `hands` is what input/ knows of pointers and keys. Events (they bubble): "edit" with detail {change}, "carry" with
 * detail {stroke, to, point} (to null: nothing would change; stroke null: it is over), "place" with detail {place},
 * "menu" with detail {place, box}, "hand" with detail {stroke}, "stage" with detail {by}.
 */

import { LitElement, css, html, nothing } from "lit";
import { carryFrom, landOn, stepFrom } from "../draw/landing.js";
import { sayLimb } from "./telling.js";

/** @typedef {import("../draw/shapes.js").Stage} Stage @typedef {import("../draw/shapes.js").Stroke} Stroke */
/** @typedef {import("../draw/landing.js").Place} Place */
/**
 * @typedef {{ element: HTMLElement, place: Place, stroke: Stroke | null, soon: boolean, label: string, played: string }} Cell
 *   soon: a stroke was asked for here, and the answer is on its way; played: by which limb, in words
 */
/**
 * @typedef {{ watch: (target: HTMLElement, hear: any) => () => void, commandOf: (event: KeyboardEvent) => any }} Hands
 *   watch: input/pointer.js; commandOf: what a key on a place asks
 */

/** How far the cells reach below the letters of their line, in pixels. Our choice. */
const UNDER = 2;

export class GbPlaces extends LitElement {
  static properties = {
    beat: { attribute: false },
    names: { attribute: false },
    lines: { attribute: false },
    axis: { attribute: false },
    grid: { attribute: false },
    grids: { attribute: false },
    place: { attribute: false },
    hands: { attribute: false },
    limbs: { attribute: false },
  };

  static styles = css`
    *, *::before, *::after { box-sizing: border-box; }
    :host { display: block; overflow: clip; user-select: none; -webkit-user-select: none; -webkit-touch-callout: none; }
    .grid { padding-top: var(--start); margin-left: var(--from); width: max-content; }
    .row { position: relative; display: grid; grid-auto-flow: column; grid-auto-columns: var(--column); height: var(--lane); }
    .cell { position: relative; touch-action: manipulation; cursor: pointer; -webkit-tap-highlight-color: transparent; }
    .stroke { touch-action: pan-y pinch-zoom; cursor: grab; }
    .between { position: absolute; inset: 0 auto 0 var(--x); width: var(--column); z-index: 1; }
    .carrying .cell { cursor: grabbing; }
    .free::after {
      content: ""; position: absolute; left: 50%; bottom: calc(var(--under) + ${UNDER}px); width: min(11px, 60%); height: 32%; translate: -50% 0;
      border-radius: 5px 5px 0 0; background: var(--ink-0); opacity: 0;
    }
    @media (hover: hover) { .free:hover::after { opacity: 0.16; } .carrying .free::after { opacity: 0; } }
    .free:focus-visible::after { opacity: 0.22; }
    /* The ring is drawn around the pillar; in forced colours the outline of the whole place is the ring. */
    .cell:focus-visible { outline: 2.5px solid transparent; outline-offset: -3px; }
    .cell:focus-visible::before {
      content: ""; position: absolute; z-index: 2; inset: 4px calc(50% - clamp(9px, 50%, 15px)) 0; border: 2.5px solid var(--focus); border-radius: 7px;
    }
    @media (forced-colors: active) {
      .free::after { background: CanvasText; }
      .cell:focus-visible::before { border-color: Highlight; }
    }
  `;

  /** @type {Map<string, { element: HTMLElement, cells: Map<number, Cell> }>} by surface */
  #rows = new Map();
  /** @type {WeakMap<Element, Cell>} */
  #cells = new WeakMap();
  /** @type {Cell | null} the one that Tab comes to */
  #tab = null;
  /** @type {{ cell: Cell, to: Place | null, start: import("../draw/axis.js").Axis | null, from: { x: number, y: number }, keys: boolean,
   *   point: { x: number, y: number } | null } | null} */
  #carry = null;
  /** @type {() => void} */
  #stop = () => {};

  constructor() {
    super();
    /** @type {Stage | null} */ this.beat = null;
    /** @type {Record<string, string>} labels by surface */ this.names = {};
    /** @type {import("../draw/band.js").Lines | null} */ this.lines = null;
    /** @type {import("../draw/axis.js").Axis | null} */ this.axis = null;
    /** @type {import("../draw/shapes.js").Column[]} */ this.grid = [];
    /** @type {Map<string, import("../draw/shapes.js").Column[]>} of the lines with columns of their own */ this.grids = new Map();
    /** @type {Place | null} where the keyboard is, or was */ this.place = null;
    /** @type {Hands | null} */ this.hands = null;
    /** @type {Map<string, import("../draw/shapes.js").Limb>} who plays what, by stroke id */ this.limbs = new Map();
  }

  disconnectedCallback() {
    super.disconnectedCallback();
    this.#stop();
    removeEventListener("blur", this.#putBack);
  }

  /** Put the keyboard on the place that it was on, or on the nearest there is. */
  focus() {
    if (this.#tab) this.#turnTo(this.#tab);
  }

  /** Put the keyboard on a cell; asking it of one that has it would lay the page out for nothing. @param {Cell} cell */
  #turnTo({ element }) {
    const root = /** @type {ShadowRoot} */ (this.renderRoot);
    if (root.activeElement !== element) element.focus({ preventScroll: true });
  }

  /** The stroke on the place, and where it stands in the window. @param {Place} place @returns {DOMRect | undefined} */
  boxOf(place) {
    return this.#cell(place)?.element.getBoundingClientRect();
  }

  render() {
    if (!this.beat) return nothing;
    return html`<div class="grid" role="grid" aria-label=${`Strokes of ${this.beat.heading}`} @keydown=${this.#key}
      @keyup=${this.#keyUp} @focusin=${this.#focused}></div>`;
  }

  /** @param {Map<PropertyKey, unknown>} changed */
  updated(changed) {
    const root = /** @type {HTMLElement | null} */ (this.renderRoot.querySelector(".grid"));
    const { lines, axis, beat } = this;
    if (!root || !lines || !axis || !beat) return;
    if (changed.has("hands") || !changed.size) this.#listen(root);
    if (changed.has("lines") || changed.has("axis")) {
      this.style.setProperty("--start", `${lines.above + UNDER}px`);
      this.style.setProperty("--column", `${axis.column}px`);
      this.style.setProperty("--from", `${axis.x(0) - axis.column / 2}px`);
      this.style.setProperty("height", `${lines.height}px`);
    }
    if (["beat", "lines", "axis", "grid", "grids", "names", "limbs"].some((name) => changed.has(name))) this.#fill(root, beat, lines);
    this.#aim();
  }

  /** @param {HTMLElement} root @param {Stage} beat @param {import("../draw/band.js").Lines} lines */
  #fill(root, beat, lines) {
    /** @type {Map<string, Map<number, Stroke>>} */
    const strokes = new Map([...lines.feet.keys()].map((surface) => [surface, new Map()]));
    for (const stroke of beat.strokes) strokes.get(stroke.surface)?.set(stroke.at, stroke);
    for (const [surface, row] of this.#rows) {
      if (strokes.has(surface)) continue;
      row.element.remove();
      this.#rows.delete(surface);
    }
    let i = 0;
    for (const [surface, there] of strokes) {
      const row = this.#row(surface);
      if (root.children[i] !== row.element) root.insertBefore(row.element, root.children[i] ?? null);
      this.#fillRow(row, surface, there);
      i += 1;
    }
  }

  /** @param {{ element: HTMLElement, cells: Map<number, Cell> }} row @param {string} surface @param {Map<number, Stroke>} there */
  #fillRow(row, surface, there) {
    const named = this.names[surface] ?? surface;
    row.element.ariaLabel = named;
    const grid = this.#grid(surface);
    /** @type {[number, string][]} every place of the line, and what is said where it is empty */
    const wanted = grid.map(({ at, place }) => [at, `${named}, ${place}, empty`]);
    const columns = new Set(grid.map(({ at }) => at));
    const between = [...there.keys()].filter((at) => !columns.has(at));
    if (between.length) {
      wanted.push(...between.map((at) => /** @type {[number, string]} */ ([at, ""])));
      wanted.sort((a, b) => a[0] - b[0]);
    }
    const known = row.cells;
    /** @type {Map<number, Cell>} */
    const cells = new Map();
    for (let i = 0; i < wanted.length; i += 1) {
      const [at, empty] = wanted[i];
      const stroke = there.get(at) ?? null;
      const label = stroke?.label ?? empty;
      const cell = known.get(at) ?? this.#make(surface, at);
      if (stroke) cell.soon = false; // an answer to an earlier wish leaves it open
      if (cell.stroke !== stroke || cell.label !== label || !cell.element.isConnected) {
        if (cell.label !== label) cell.element.ariaLabel = label;
        if (!cell.stroke !== !stroke || !cell.label) cell.element.className = stroke ? "cell stroke" : "cell free";
        cell.stroke = stroke;
        cell.label = label;
      }
      const played = stroke ? sayLimb(this.limbs.get(stroke.id), stroke) : "";
      if (cell.played !== played) {
        cell.played = played;
        if (played) cell.element.setAttribute("aria-description", played);
        else cell.element.removeAttribute("aria-description");
      }
      if (!columns.has(at)) this.#putBetween(cell);
      if (row.element.children[i] !== cell.element) row.element.insertBefore(cell.element, row.element.children[i] ?? null);
      cells.set(at, cell);
    }
    while (row.element.children.length > wanted.length) row.element.lastElementChild?.remove();
    row.cells = cells;
    const { axis } = this;
    if (!axis) return;
    // A place is as wide as its column, and its middle stands where the stroke does.
    const wide = ((grid[1]?.at ?? axis.cycle) - grid[0].at) * axis.perTick;
    row.element.style.setProperty("--column", `${wide}px`);
    row.element.style.setProperty("margin-left", `${(axis.column - wide) / 2}px`);
  }

  /** The places of a line. @param {string} surface */
  #grid(surface) {
    return this.grids.get(surface) ?? this.grid;
  }

  /** @param {Cell} cell of a stroke between two columns */
  #putBetween({ element, place }) {
    if (!this.axis) return;
    element.classList.add("between");
    element.style.setProperty("--x", `${place.at * this.axis.perTick}px`);
  }

  /** @param {string} surface */
  #row(surface) {
    let row = this.#rows.get(surface);
    if (!row) {
      const element = document.createElement("div");
      element.className = "row";
      element.role = "row";
      element.dataset.surface = surface;
      this.#rows.set(surface, (row = { element, cells: new Map() }));
    }
    return row;
  }

  /** @param {string} surface @param {number} at @returns {Cell} */
  #make(surface, at) {
    const element = document.createElement("div");
    element.role = "gridcell";
    element.tabIndex = -1;
    element.dataset.at = String(at);
    /** @type {Cell} */
    const cell = { element, place: { surface, at }, stroke: null, soon: false, label: "", played: "" };
    this.#cells.set(element, cell);
    return cell;
  }

  /** @param {Place | null} place @returns {Cell | undefined} */
  #cell(place) {
    return place ? this.#rows.get(place.surface)?.cells.get(place.at) : undefined;
  }

  /** Let Tab come to the place where the keyboard was; its line may be gone, or its stroke between two columns. */
  #aim() {
    let cell = this.#cell(this.place);
    if (!cell) {
      const row = this.#rows.get(this.place?.surface ?? "") ?? this.#rows.values().next().value;
      for (const one of row?.cells.values() ?? []) {
        if (!cell || one.place.at <= (this.place?.at ?? 0)) cell = one;
      }
    }
    if (!cell || cell === this.#tab) return;
    if (this.#tab) this.#tab.element.tabIndex = -1;
    cell.element.tabIndex = 0;
    this.#tab = cell;
  }

  /** @param {HTMLElement} root */
  #listen(root) {
    this.#stop();
    if (!this.hands) return;
    this.#stop = this.hands.watch(root, {
      find: (/** @type {Element} */ target) => this.#cells.get(target) ?? null,
      carries: (/** @type {Cell} */ cell) => cell.stroke !== null,
      tap: (/** @type {Cell} */ cell) => this.#tap(cell),
      hold: (/** @type {Cell} */ cell) => this.#menu(cell),
      lift: (/** @type {Cell} */ cell, /** @type {{ x: number, y: number }} */ point) => this.#lift(cell, point),
      move: (/** @type {{ x: number, y: number }} */ point) => this.#move(point),
      drop: () => this.#drop(),
      cancel: () => this.#putBack(),
    });
  }

  /** @param {string} name @param {object} detail */
  #tell(name, detail) {
    this.dispatchEvent(new CustomEvent(name, { detail, bubbles: true, composed: true }));
  }

  /** @param {object} change */
  #edit(change) {
    this.#tell("edit", { change: { ...change, stage: this.beat?.stage } });
  }

  /** @param {FocusEvent} event */
  #focused(event) {
    const cell = this.#cells.get(/** @type {Element} */ (event.target));
    if (!cell) return;
    const left = this.#cell(this.place);
    if (left && left !== cell) left.soon = false;
    this.place = cell.place;
    this.#aim();
    this.#tell("place", { place: cell.place });
  }

  /** @param {Cell} cell */
  #tap(cell) {
    this.#turnTo(cell);
    cell.soon = !cell.stroke;
    this.#edit({ ask: "tap", ...cell.place });
  }

  /** @param {Cell} cell */
  #menu(cell) {
    this.#turnTo(cell);
    if (cell.stroke) this.#tell("menu", { place: cell.place, box: cell.element.getBoundingClientRect() });
  }

  /** @param {Cell} cell @param {{ x: number, y: number } | null} point null: by the keyboard */
  #lift(cell, point) {
    const box = this.getBoundingClientRect();
    const from = point ? { x: point.x - box.left, y: point.y - box.top } : { x: 0, y: 0 };
    this.#carry = { cell, to: cell.place, start: this.axis, from, keys: !point, point };
    this.#turnTo(cell);
    this.renderRoot.querySelector(".grid")?.classList.add("carrying");
    if (!point) addEventListener("blur", this.#putBack);
    this.#tell("carry", { stroke: cell.stroke, to: cell.place, point });
  }

  /** The picture has moved below the hand that carries a stroke. */
  moveAgain() {
    if (this.#carry?.point) this.#move(this.#carry.point);
  }

  /** @param {{ x: number, y: number }} point */
  #move(point) {
    const { lines, axis } = this;
    const carry = this.#carry;
    if (!carry || !lines || !axis) return;
    carry.point = point;
    // Measured on the picture, which may scroll below the hand.
    const box = this.getBoundingClientRect();
    const dx = point.x - box.left - carry.from.x;
    const dy = point.y - box.top - carry.from.y;
    carry.to = landOn(carry.cell.place, dx, dy, lines, axis, (surface) => this.#grid(surface));
    this.#tell("carry", { stroke: carry.cell.stroke, to: carry.to, point });
  }

  #drop() {
    const carry = this.#carry;
    if (!carry) return;
    const { to } = carry;
    const { place } = carry.cell;
    if (!to || (to.at === place.at && to.surface === place.surface)) return this.#putBack();
    const { surface, at, over = 0 } = to;
    this.#end();
    this.#tell("place", { place: { surface, at } });
    this.#edit({ ask: "drag", ...place, to_surface: surface, to_at: at + over * (this.axis?.cycle ?? 0) });
  }

  #putBack = () => {
    if (!this.#carry) return;
    this.#end();
    this.#tell("carry", { stroke: null, to: null, point: null });
  };

  #end() {
    this.#carry = null;
    this.renderRoot.querySelector(".grid")?.classList.remove("carrying");
    removeEventListener("blur", this.#putBack);
  }

  /** @param {KeyboardEvent} event */
  #key(event) {
    const cell = this.#cells.get(/** @type {Element} */ (event.target));
    const command = cell && this.hands?.commandOf(event);
    if (!cell || !command) return;
    if (this.#carry && !this.#carry.keys) return;
    if (command.do === "back") {
      if (!this.#carry) return;
      event.preventDefault();
      return this.#putBack();
    }
    event.preventDefault();
    event.stopPropagation();
    if (command.do !== "carry" && this.#carry) this.#drop();
    if (command.do === "step") this.#step(cell, command.along, command.across);
    else if (command.do === "carry") this.#carryOn(cell, command.along, command.across);
    else if (command.do === "stage") this.#tell("stage", { by: command.by });
    else if (event.repeat) return;
    else if (command.do === "tap") this.#tap(cell);
    else if (command.do === "menu") this.#menu(cell);
    else if (cell.stroke && command.do === "hand") this.#tell("hand", { stroke: cell.stroke });
    else if (cell.stroke && command.do === "out") this.#edit({ ask: "tap", ...cell.place });
    else if ((cell.stroke || cell.soon) && command.do === "dynamic") {
      this.#edit({ ask: "shape", ...cell.place, quality: "dynamic", value: command.dynamic });
    }
  }

  /** @param {KeyboardEvent} event */
  #keyUp(event) {
    if (event.key === "Shift" && this.#carry?.keys) this.#drop();
  }

  /** @param {Cell} cell @param {number} along @param {number} across */
  #step(cell, along, across) {
    const lanes = [...this.#rows.keys()].sort((a, b) => (this.lines?.feet.get(a) ?? 0) - (this.lines?.feet.get(b) ?? 0));
    const to = stepFrom(cell.place, along, across, lanes, [...(this.#rows.get(cell.place.surface)?.cells.keys() ?? [])]);
    const row = this.#rows.get(to.surface);
    // Between two columns a place has no neighbour on the next line: the column before it is the nearest.
    const next = row?.cells.get(to.at) ?? row?.cells.get(stepFrom(to, -1, 0, lanes, [...row.cells.keys()]).at);
    if (next) this.#turnTo(next);
    next?.element.scrollIntoView({ block: "nearest", inline: "nearest" });
  }

  /** @param {Cell} cell @param {number} along @param {number} across */
  #carryOn(cell, along, across) {
    if (!this.#carry && !cell.stroke) return;
    if (!this.#carry) this.#lift(cell, null);
    const carry = this.#carry;
    if (!carry) return;
    const lanes = [...(this.lines?.feet.keys() ?? [])];
    carry.to = carryFrom(carry.to ?? cell.place, along, across, lanes, this.#grid(carry.to?.surface ?? cell.place.surface).map(({ at }) => at));
    this.#tell("carry", { stroke: carry.cell.stroke, to: carry.to, point: null });
  }
}

customElements.define("gb-places", GbPlaces);
