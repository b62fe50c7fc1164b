/**
 * "Before you play it": what a teacher would say about the chosen stage before the first try. What cannot be played comes
 * first, then the spots to mind, each with the way to hear it and the least to leave out; folded away, what the stage
 * asks, how much of the base beat is in it, and the stroke types.
 *
 * Events: "spot" with detail {spot} (-1 for none), "part" with detail {range} (null for the whole beat): to be looped and
 * heard, "leave" with detail {ids}, "types" with detail {on}, "home" with detail {on}: to hear only the base beat.
 */

import { LitElement, html, nothing } from "lit";
import { loopAround } from "../draw/around.js";
import { frameOf } from "../draw/frame.js";
import { beforeLook } from "./before-look.js";
import { controls } from "./inks.js";
import "./gb-demand.js";
import "./gb-limits.js";

/** How many spots are told at once; the others unfold. */
const MOST = 5;
/** What the stroke types mean. */
const TYPES = [["full", "starts high, ends high"], ["down", "starts high, ends low"], ["tap", "starts low, ends low"], ["up", "starts low, ends high"]];

/** @typedef {import("../draw/shapes.js").Spot} Spot */

export class GbBefore extends LitElement {
  static properties = {
    playing: { attribute: false },
    stale: { type: Boolean },
    home: { attribute: false },
    view: { attribute: false },
    chosen: { type: Number },
    tempo: { type: Number },
    spot: { type: Number },
    types: { type: Boolean },
    onlyBase: { type: Boolean },
    all: { state: true },
    open: { state: true },
  };

  static styles = [controls, beforeLook];

  constructor() {
    super();
    /** @type {import("../draw/shapes.js").Playing | null} */ this.playing = null;
    /** whether newer is on its way */ this.stale = false;
    /** @type {import("../draw/shapes.js").Home | null} how far from the base beat the chosen stage is */ this.home = null;
    /** @type {import("../draw/shapes.js").View | null} */ this.view = null;
    this.chosen = 0;
    this.tempo = 100;
    /** which spot is looked at, -1 for none */ this.spot = -1;
    /** whether the stroke types are shown */ this.types = false;
    /** whether only the base beat is heard */ this.onlyBase = false;
    /** whether more than the first spots are shown */ this.all = false;
    /** @type {"" | "asks" | "home"} what is unfolded */ this.open = "";
  }

  /** @param {Map<PropertyKey, unknown>} changed */
  willUpdate(changed) {
    if (changed.has("chosen")) this.all = false;
    if (this.spot >= MOST) this.all = true; // it is looked at
  }

  render() {
    const { playing } = this;
    return html`<div class="all" role="region" aria-labelledby="before" aria-busy=${this.stale ? "true" : "false"}>
      <div class="top"><h2 id="before">Before you play it</h2>${playing ? this.#types() : nothing}</div>
      ${playing ? this.#told(playing) : html`<p class="soft">${this.stale ? "Looking at how it is played." : "What is known of playing it stands here."}</p>`}
      <slot></slot>
    </div>`;
  }

  /** @param {import("../draw/shapes.js").Playing} playing */
  #told(playing) {
    const { spots, verdict, demand } = playing;
    const shown = this.all ? spots : spots.slice(0, MOST);
    const asks = demand.length > 0;
    return html`${this.types ? legend() : nothing}
      <div class="narrow"><gb-limits .playing=${playing} .tempo=${this.tempo}></gb-limits></div>
      ${this.#verdict(playing)}
      ${spots.length
        ? html`<ol>${shown.map((spot, i) => this.#spot(spot, i))}</ol>`
        : verdict.kind === "playable" ? html`<p>Nothing to warn about at ${playing.tempo}.</p>` : nothing}
      ${spots.length > MOST
        ? html`<button type="button" class="more" aria-expanded=${this.all ? "true" : "false"} @click=${this.#unfold}>${this.all ? "Fewer" : `and ${spots.length - MOST} more`}</button>`
        : nothing}
      <div class="end">
        ${asks ? this.#fold("asks", "What it asks of you") : nothing}
        ${this.home && this.chosen ? this.#fold("home", "What is left of the base beat") : nothing}
      </div>
      ${asks && this.open === "asks" ? html`<div class="inside" id="asks"><gb-demand .parts=${demand}></gb-demand></div>` : nothing}
      ${this.home && this.chosen && this.open === "home" ? this.#home(this.home) : nothing}`;
  }

  /** Whether it can be played; where the spots tell why not, in few words. @param {import("../draw/shapes.js").Playing} playing */
  #verdict({ verdict: { kind, text }, spots, tempo }) {
    if (kind === "playable") return text && !spots.some((spot) => text.includes(spot.text)) ? html`<p>${sentence(text)}</p>` : nothing;
    const told = spots.some((spot) => spot.kind === kind);
    const short = kind === "impossible" ? "Nobody can play this as it is." : `Too fast at ${tempo}.`;
    return html`<p class="trouble"><b>${told ? short : sentence(text)}</b></p>`;
  }

  /** @param {Spot} spot @param {number} i */
  #spot(spot, i) {
    const looked = i === this.spot;
    const at = this.playing?.troubles.find((one) => one.kind === spot.kind && one.at === spot.at)?.possible_at;
    return html`<li class=${looked ? "spot looked" : "spot"}>
      <button type="button" aria-expanded=${looked ? "true" : "false"} @click=${() => this.#tell("spot", { spot: looked ? -1 : i })}>
        <svg viewBox="0 0 10 10" aria-hidden="true"><circle cx="5" cy="5" r="4.500"></circle></svg><span>${sentence(spot.text)}</span></button>
      ${looked
        ? html`<div class="deeds">${at === undefined ? nothing : html`<p>${at === null ? "Possible at no tempo." : `Possible from ${at} down.`}</p>`}
            <button type="button" @click=${() => this.#tell("part", { range: this.#around(spot) })}>Hear it</button>
            ${spot.leave_out.length && !this.view?.newer
              ? html`<button type="button" ?disabled=${this.stale} @click=${() => this.#tell("leave", { ids: spot.leave_out })}>${leave(spot)}</button>`
              : nothing}</div>`
        : nothing}
    </li>`;
  }

  /** @param {Spot} spot */
  #around({ ids, at }) {
    if (!this.view) return null;
    const stage = this.view.stages[this.chosen];
    const { grid, cycle } = frameOf(this.view, this.chosen);
    const wanted = new Set(ids);
    return loopAround([at, ...(stage?.strokes ?? []).filter(({ id }) => wanted.has(id)).map((stroke) => stroke.at)], grid, cycle);
  }

  #types() {
    return html`<label class="tick"><input type="checkbox" .checked=${this.types}
      @change=${(/** @type {Event} */ e) => this.#tell("types", { on: /** @type {HTMLInputElement} */ (e.currentTarget).checked })} /> Stroke types</label>`;
  }

  /** @param {"asks" | "home"} what @param {string} words */
  #fold(what, words) {
    const open = this.open === what;
    return html`<button type="button" class="fold" aria-expanded=${open ? "true" : "false"} @click=${() => (this.open = open ? "" : what)}>${words}</button>`;
  }

  /** @param {import("../draw/shapes.js").Home} home */
  #home({ text, distance }) {
    return html`<div class="inside"><p>${sentence(text)} It is ${distance} of 100 away from the base beat.</p>
      <label class="tick"><input type="checkbox" .checked=${this.onlyBase}
        @change=${(/** @type {Event} */ e) => this.#tell("home", { on: /** @type {HTMLInputElement} */ (e.currentTarget).checked })} /> hear only the first beat in it</label></div>`;
  }

  #unfold() {
    this.all = !this.all;
    if (!this.all && this.spot >= MOST) this.#tell("spot", { spot: -1 });
  }

  /** @param {string} name @param {object} detail */
  #tell(name, detail) {
    this.dispatchEvent(new CustomEvent(name, { detail }));
  }
}

function legend() {
  return html`<p class="legend" aria-label="What the stroke types mean">${TYPES.map(([type, words]) => html`<span><i>${type}</i> ${words}</span>`)}</p>`;
}

/** @param {Spot} spot @returns {string} */
function leave({ leave_out_text: text }) {
  return /^leave out/i.test(text) ? sentence(text).replace(/\.$/, "") : `Leave out ${text}`;
}

/** @param {string} text @returns {string} */
function sentence(text) {
  if (!text) return "";
  const begun = text[0].toUpperCase() + text.slice(1);
  return /[.!?]$/.test(begun) ? begun : `${begun}.`;
}

customElements.define("gb-before", GbBefore);
