/**
 * The letters of the limbs under the lines of the chosen stage, the stroke types under them, and the beads that mark the
 * spots to warn about.
 *
 * It lies over the picture and is drawn apart from it, for what is known of playing comes later than the strokes. For
 * mouse and finger only: keyboard and screen reader have all of it at the places (gb-places.js) and in the list of the
 * spots (gb-before.js).
 *
 * Events (they bubble): "hand" with detail {stroke} where a hand's letter is clicked, "spot" with detail {spot}.
 */

import { LitElement, css, html, nothing, svg } from "lit";
import { drawLimbs, drawSpots } from "../draw/limbs.js";

/** @typedef {import("../draw/limbs.js").Letter} Letter @typedef {import("../draw/limbs.js").Marked} Marked */

/** Pixels around what a looked-at spot frames, and around the beads where a hand points at them. Our choice. */
const ROUND = 11;
const NEAR = 8;
/** How many spots are marked, besides the one that is looked at: more would be a pattern of their own. Our choice. */
const MOST = 5;

export class GbLimbs extends LitElement {
  static properties = {
    beat: { attribute: false },
    lines: { attribute: false },
    axis: { attribute: false },
    limbs: { attribute: false },
    spots: { attribute: false },
    spot: { type: Number },
    types: { type: Boolean },
    locked: { type: Boolean },
  };

  static styles = css`
    :host { display: block; pointer-events: none; }
    svg { display: block; overflow: visible; }
    text { font: inherit; text-anchor: middle; fill: var(--soft); paint-order: stroke; stroke: var(--behind); stroke-width: 3.5; stroke-linejoin: round; }
    .letter { font-size: 11.5px; font-weight: 650; }
    .pinned .letter { fill: var(--ink-0); font-weight: 800; }
    .rule { stroke: var(--ink-0); stroke-width: 1.8; stroke-linecap: round; fill: none; }
    .type { font-size: 10.5px; font-style: italic; }
    .hit { fill: transparent; pointer-events: auto; cursor: pointer; touch-action: manipulation; -webkit-tap-highlight-color: transparent; }
    .thread { stroke: var(--rule-strong); stroke-width: 1.6; fill: none; }
    .bead { fill: var(--soft); }
    .looked .thread { stroke: var(--focus); stroke-width: 2; }
    .looked .bead { fill: var(--focus); }
    .round { fill: none; stroke: var(--focus); stroke-width: 1.5; stroke-dasharray: 1 4; stroke-linecap: round; }
    @media (hover: hover) { .hit.letterbox:hover { fill: var(--ink-0); fill-opacity: 0.1; } .spot:hover .bead { fill: var(--ink-0); } }
    @media (forced-colors: active) {
      text, .bead { fill: CanvasText; stroke: none; }
      .rule, .thread { stroke: CanvasText; }
      .round, .looked .thread { stroke: Highlight; }
    }
  `;

  constructor() {
    super();
    /** @type {import("../draw/shapes.js").Stage | null} */ this.beat = null;
    /** @type {import("../draw/band.js").Lines | null} */ this.lines = null;
    /** @type {import("../draw/axis.js").Axis | null} */ this.axis = null;
    /** @type {Map<string, import("../draw/shapes.js").Limb>} by stroke id */ this.limbs = new Map();
    /** @type {import("../draw/shapes.js").Spot[]} */ this.spots = [];
    /** which of the spots is looked at, -1 for none */ this.spot = -1;
    this.types = false;
    /** whether nothing can be pinned */ this.locked = false;
  }

  render() {
    const { beat, lines, axis } = this;
    if (!beat || !lines || !axis) return nothing;
    const shown = this.spots.map((spot, i) => ({ spot, i })).filter(({ i }) => i < MOST || i === this.spot);
    const marked = drawSpots(shown.map(({ spot }) => spot), beat, lines, axis);
    return html`<svg width=${axis.width} height=${lines.height} aria-hidden="true">
      ${marked.map((one, i) => this.#spot(one, shown[i].i))}
      ${drawLimbs(beat, this.limbs, lines, axis, this.types).map((one) => this.#letter(one))}
    </svg>`;
  }

  /** @param {Marked} marked @param {number} i */
  #spot({ beads, thread }, i) {
    const looked = i === this.spot;
    const [first, y] = beads[0];
    const last = beads[beads.length - 1][0];
    const frames = thread ? [[first, last]] : beads.map(([x]) => [x, x]);
    return svg`<g class=${looked ? "spot looked" : "spot"} data-spot=${i}>
      ${looked ? frames.map(([from, to]) => svg`<rect class="round" x=${from - ROUND} y="4" width=${to - from + 2 * ROUND} height=${y - 10} rx="8"></rect>`) : nothing}
      ${frames.map(([from, to]) => svg`<rect class="hit" x=${from - NEAR} y=${y - NEAR / 2} width=${to - from + 2 * NEAR} height=${NEAR}
        @click=${(/** @type {Event} */ event) => this.#tell(event, "spot", { spot: looked ? -1 : i })}></rect>`)}
      ${thread ? svg`<path class="thread" d=${thread}></path>` : nothing}
      ${beads.map(([x]) => svg`<circle class="bead" cx=${x} cy=${y} r=${looked ? 3.2 : 2.4}></circle>`)}
    </g>`;
  }

  /** @param {Letter} letter */
  #letter({ stroke, limb, letter, pinned, hand, x, y, rule, type, typeY, box }) {
    return svg`<g class=${pinned ? "limb pinned" : "limb"} data-id=${stroke.id} data-limb=${limb.limb}>
      ${hand && !this.locked
        ? svg`<rect class="hit letterbox" x=${box.x} y=${box.y} width=${box.width} height=${box.height} rx="4"
            @click=${(/** @type {Event} */ event) => this.#tell(event, "hand", { stroke })}><title>${limb.limb}${pinned ? ", pinned" : ""}: click for another</title></rect>`
        : nothing}
      <text class="letter" x=${x} y=${y + 4}>${letter}</text>
      ${rule ? svg`<path class="rule" d=${rule}></path>` : nothing}
      ${type ? svg`<text class="type" x=${x} y=${typeY + 3.5}>${type}</text>` : nothing}
    </g>`;
  }

  /** @param {Event} event @param {string} name @param {object} detail */
  #tell(event, name, detail) {
    event.stopPropagation(); // the band below would choose its stage
    this.dispatchEvent(new CustomEvent(name, { detail, bubbles: true, composed: true }));
  }
}

customElements.define("gb-limbs", GbLimbs);
