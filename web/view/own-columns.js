/**
 * Lines that are written in columns of their own: triplets on the hi-hat over sixteenths on the snare.
 *
 * The engine says which lines of the base beat stand so. Others can be picked here to be tapped in; that is a way of
 * looking, kept as long as the page is open and the beat has the same frame. Where a column lies the engine says.
 */

/** @typedef {import("../draw/shapes.js").View} View @typedef {import("../draw/shapes.js").Column} Column */

export class OwnColumns {
  #find;
  #changed;
  #frame = "";
  /** @type {Map<string, string>} by surface, what was picked */
  #picked = new Map();
  /** @type {Map<string, Column[] | null>} by name; null while it is asked for */
  #grids = new Map();
  /** @type {{ key: string, grids: Map<string, Column[]> }} */
  #last = { key: "", grids: new Map() };

  /**
   * @param {(columns: string) => Promise<{ grid?: Column[] } | null>} find asks the engine
   * @param {() => void} changed called when more is known
   */
  constructor(find, changed) {
    this.#find = find;
    this.#changed = changed;
  }

  /** The columns of a line. @param {string} surface @param {View} view @returns {string} */
  of(surface, view) {
    this.#turnTo(view);
    return this.#picked.get(surface) ?? view.own[surface] ?? view.columns;
  }

  /** Write a line in other columns. @param {string} surface @param {string} columns */
  pick(surface, columns) {
    this.#picked.set(surface, columns);
    this.#changed();
  }

  /** The places of those lines that do not have the beat's; the same map while nothing changes. @param {View} view @returns {Map<string, Column[]>} */
  grids(view) {
    this.#turnTo(view);
    const surfaces = [...new Set([...this.#picked.keys(), ...Object.keys(view.own)])];
    /** @type {Map<string, Column[]>} */
    const grids = new Map();
    for (const surface of surfaces) {
      const columns = this.of(surface, view);
      if (columns === view.columns) continue;
      const grid = this.#grids.get(columns);
      if (grid) grids.set(surface, grid);
      else if (grid === undefined) this.#ask(columns);
    }
    const key = [this.#frame, ...[...grids.keys()].map((surface) => `${surface}=${this.of(surface, view)}`)].join(" ");
    if (key !== this.#last.key) this.#last = { key, grids };
    return this.#last.grids;
  }

  /** @param {View} view */
  #turnTo({ meter, bars, columns }) {
    const frame = `${meter} ${bars} ${columns}`;
    if (frame === this.#frame) return;
    this.#frame = frame;
    this.#picked.clear();
    this.#grids.clear();
  }

  /** @param {string} columns */
  async #ask(columns) {
    const grids = this.#grids;
    const frame = this.#frame;
    grids.set(columns, null);
    const reply = await this.#find(columns);
    if (frame !== this.#frame) return;
    if (reply?.grid) grids.set(columns, reply.grid);
    else grids.delete(columns);
    if (reply?.grid) this.#changed();
  }
}
