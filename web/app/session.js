/**
 * The other ways of a beat, kept while this tab is open: the address holds one way only, so a reload would lose them.
 *
 * Whole documents by their link, the newest few, in the session's storage. Where the browser keeps nothing (a private
 * window, a frame, a full store) or there is no link, it asks before the page is left, and `holds` is false.
 */

const KEY = "groundbeat.ways";
/** Documents that are kept, so that undo and the back key find theirs. Our choice. */
const MOST = 8;

/** @typedef {[link: string, document: string]} Row */

export class Session {
  #holds = true;

  constructor() {
    addEventListener("beforeunload", (event) => {
      if (!this.#holds) event.preventDefault();
    });
  }

  /** Whether a reload brings the other ways of the beat back that was kept last. @returns {boolean} */
  get holds() {
    return this.#holds;
  }

  /** Keep a beat if it has other ways. @param {{ link: string | null, document: string, ways: unknown[] }} view */
  keep({ link, document, ways }) {
    const rows = read();
    const others = rows.filter(([known]) => known !== link);
    if (ways.length && link) {
      /** @type {Row} */
      const row = [link, document];
      this.#holds = write([...others, row].slice(-MOST)) || write([row]);
    } else {
      this.#holds = ways.length === 0;
      if (others.length < rows.length) write(others);
    }
  }

  /** The document that was kept for a link. @param {string} link without "#" @returns {string | null} */
  find(link) {
    return read().find(([known]) => known === link)?.[1] ?? null;
  }
}

/** @returns {Row[]} */
function read() {
  try {
    const rows = JSON.parse(sessionStorage.getItem(KEY) ?? "[]");
    return Array.isArray(rows) ? rows.filter((row) => Array.isArray(row) && typeof row[0] === "string" && typeof row[1] === "string") : [];
  } catch {
    return [];
  }
}

/** @param {Row[]} rows @returns {boolean} */
function write(rows) {
  try {
    sessionStorage.setItem(KEY, JSON.stringify(rows));
    return true;
  } catch {
    return false;
  }
}
