/**
 * The gap above a stage: the threads that lead from the stage before to this one.
 *
 * Kept threads are drawn as one faint path; those that tell of a change are elements of their own, in the ink of the
 * stage that made it. `glow(above, below)` lights the threads of some strokes without drawing anew.
 */

import { LitElement, css, html, nothing, svg } from "lit";
import { inkOf } from "../draw/colours.js";
import { drawGap } from "../draw/threads.js";
import { inks } from "./inks.js";

export class GbThreads extends LitElement {
  static properties = {
    stage: { attribute: false },
    height: { type: Number },
    axis: { attribute: false },
    pull: { attribute: false },
  };

  static styles = [
    inks,
    css`
      :host { display: block; overflow: clip; padding-left: calc(var(--head) + var(--labels)); }
      svg { display: block; }
      path { fill: none; stroke-width: 2.4; stroke-linecap: round; }
      .kept { stroke: var(--strand); stroke-width: 1; stroke-linecap: butt; }
      .altered { stroke-width: 1.8; }
      .glow { stroke: var(--lamp-strong); stroke-width: 3; }
      circle { stroke: none; }
    `,
  ];

  constructor() {
    super();
    /** @type {import("../draw/shapes.js").Stage | null} */ this.stage = null;
    this.height = 28;
    /** @type {import("../draw/axis.js").Axis | null} */ this.axis = null;
    /** @type {import("../draw/threads.js").Pull | null} the thread that follows a carried stroke */ this.pull = null;
    /** @type {import("../draw/threads.js").Strand[]} */ this.strands = [];
  }

  /**
   * Light the threads of these strokes and no others.
   * @param {Set<string>} above ids in the stage before @param {Set<string>} below ids in this stage
   */
  glow(above, below) {
    let d = "";
    for (const strand of this.strands) {
      if (strand.fate === "added" ? below.has(strand.id) : above.has(strand.id)) d += strand.d;
    }
    this.renderRoot.querySelector(".glow")?.setAttribute("d", d || "M0 0");
  }

  render() {
    const { stage, axis } = this;
    if (!stage || !axis) return nothing;
    this.strands = drawGap(stage, this.height, axis, this.pull);
    const ink = inkOf(stage.stage);
    const kept = this.strands.filter((strand) => strand.fate === "kept").map((strand) => strand.d);
    return html`<svg width=${axis.width} height=${this.height} aria-hidden="true">
      <path class="kept" d=${kept.join("") || "M0 0"}></path>
      ${this.strands
        .filter((strand) => strand.fate !== "kept")
        .map(
          (strand) => svg`<g data-id=${strand.id} data-fate=${strand.fate}>
            <path class="${strand.fate.replace(" ", "-")} e${ink}" d=${strand.d}></path>
            ${strand.stub ? svg`<path class="e${ink}" d=${strand.stub}></path>` : nothing}
            ${strand.dot ? svg`<circle class="f${ink}" cx=${strand.dot[0]} cy=${strand.dot[1]} r="3.2"></circle>` : nothing}
          </g>`,
        )}
      <path class="glow" d="M0 0"></path>
    </svg>`;
  }
}

customElements.define("gb-threads", GbThreads);
