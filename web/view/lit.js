/**
 * Which strokes of every stage belong to what sounds now.
 */

import { followWay } from "../draw/ways.js";

/** @typedef {import("../draw/shapes.js").View} View */

export class Lit {
  /** @type {View | null} */
  #view = null;
  /** @type {Map<string, Set<string>[]>} */
  #ways = new Map();

  /** @param {View} view @param {import("./light.js").Heard | null} heard @returns {Set<string>[]} ids, a set for each stage */
  of(view, heard) {
    if (this.#view !== view) {
      this.#view = view;
      this.#ways.clear();
    }
    /** @type {Set<string>[]} */
    const lit = view.stages.map(() => new Set());
    for (const id of heard ? heard.ids : []) {
      this.#way(view, heard?.stage ?? 0, id).forEach((ids, stage) => ids.forEach((one) => lit[stage].add(one)));
    }
    return lit;
  }

  /** @param {View} view @param {number} stage @param {string} id @returns {Set<string>[]} */
  #way(view, stage, id) {
    const key = `${stage} ${id}`;
    let way = this.#ways.get(key);
    if (!way) {
      // What sounds in a stage may be heard from the base beat alone: then its way begins there.
      const there = view.stages[stage]?.strokes.some((stroke) => stroke.id === id);
      way = followWay(view.stages, there ? stage : 0, id);
      this.#ways.set(key, way);
    }
    return way;
  }
}
