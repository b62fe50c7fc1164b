/**
 * The running of the light: once a frame it asks where the music is and moves what is already drawn.
 *
 * It renders nothing and keeps nothing of the music: a transform for the column of light and the marker, a class for
 * the count, and one path attribute in each band for the threads that glow. With reduced motion the light steps from
 * column to column and nothing glows.
 */

import { frameOf } from "../draw/frame.js";
import { Lit } from "./lit.js";

/** @typedef {import("../draw/shapes.js").View} View */
/** @typedef {{ at: number, stage: number, ids: string[] }} Heard at in written ticks; ids sounding in that stage */
/**
 * @typedef {{ root: DocumentFragment | HTMLElement, view: View, axis: import("../draw/axis.js").Axis, chosen: number,
 *   labels: number }} Scene labels: pixels left of the time axis, words and names of the lines together
 */

/** How much of the frame stays in sight ahead of the light when a long beat scrolls. Our choice. */
const AHEAD = 0.15;

export class Light {
  #frame = 0;
  /** @type {(() => Scene | null) | null} */
  #scene = null;
  #lit = "";
  #column = -1;
  #sounding = new Lit();
  #still = matchMedia("(prefers-reduced-motion: reduce)");

  /**
   * Follow the music until stop().
   * @param {() => Heard | null} clock @param {() => Scene | null} scene
   */
  start(clock, scene) {
    this.stop();
    const step = () => {
      this.#frame = requestAnimationFrame(step);
      const now = scene();
      if (now) this.#show(clock(), now);
    };
    this.#scene = scene;
    step();
  }

  /** Put the light out. */
  stop() {
    cancelAnimationFrame(this.#frame);
    const scene = this.#scene?.();
    if (scene) this.#show(null, scene);
  }

  /** @param {Heard | null} heard @param {Scene} scene */
  #show(heard, { root, view, axis, chosen, labels }) {
    const light = /** @type {HTMLElement | null} */ (root.querySelector(".light"));
    const marker = /** @type {HTMLElement | null} */ (root.querySelector(".marker"));
    if (!light || !marker) return;
    const { grid } = frameOf(view, heard?.stage ?? chosen);
    const column = heard ? columnOf(grid, heard.at) : -1;
    light.classList.toggle("on", heard !== null);
    marker.classList.toggle("on", heard !== null);
    if (heard) {
      const at = this.#still.matches ? grid[column].at : heard.at;
      const x = labels + axis.x(at);
      const band = /** @type {import("./gb-lines.js").GbLines | null} */ (root.querySelector("section.chosen gb-lines"));
      const top = band ? band.countsTop : 0;
      light.style.transform = `translateX(${x}px)`;
      marker.style.transform = `translate(${x}px, ${top}px)`;
      keepInSight(root.querySelector(".scroller"), x, labels);
    }
    if (column !== this.#column) {
      this.#column = column;
      const lines = /** @type {import("./gb-lines.js").GbLines | null} */ (
        root.querySelector("section.chosen gb-lines")
      );
      lines?.mark(column < 0 ? null : grid[column].at);
    }
    this.#glow(root, view, this.#still.matches ? null : heard, chosen);
  }

  /** @param {DocumentFragment | HTMLElement} root @param {View} view @param {Heard | null} heard @param {number} chosen */
  #glow(root, view, heard, chosen) {
    const key = heard ? `${heard.stage}/${chosen}|${heard.ids.join("|")}` : "";
    if (key === this.#lit) return;
    this.#lit = key;
    const lit = this.#sounding.of(view, heard);
    for (const lines of root.querySelectorAll("gb-lines")) {
      const element = /** @type {import("./gb-lines.js").GbLines} */ (lines);
      element.glow(lit[element.stage]);
    }
    for (const threads of root.querySelectorAll("gb-threads")) {
      const element = /** @type {import("./gb-threads.js").GbThreads} */ (threads);
      const below = element.stage?.stage ?? 0;
      if (below > 0) element.glow(lit[below - 1], lit[below]);
    }
  }
}

/** @param {View["grid"]} grid @param {number} at @returns {number} index of the column that the music is in */
function columnOf(grid, at) {
  let found = 0;
  for (let i = 0; i < grid.length && grid[i].at <= at; i += 1) found = i;
  return found;
}

/** @param {Element | null} frame @param {number} x @param {number} labels */
function keepInSight(frame, x, labels) {
  if (!frame || frame.scrollWidth <= frame.clientWidth) return;
  const from = frame.scrollLeft + labels;
  const to = frame.scrollLeft + frame.clientWidth;
  const room = frame.clientWidth - labels;
  if (x < from || x > to - room * AHEAD) frame.scrollLeft = Math.max(0, x - labels - room * AHEAD);
}
