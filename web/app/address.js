/**
 * The address bar: the document is in the part after #, and follows it.
 *
 * A change is written at once, so that a reload loses nothing; quick ones after it at most every 300 ms: WebKit refuses
 * more than 100 writes in 10 seconds. By replaceState: the back key leaves the page.
 */

/** Milliseconds between two writes. */
const WAIT = 300;

export class Address {
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #timer;
  /** The fragment that is, or is about to be, in the address. */
  #fragment = "";
  /** When the address was last written. */
  #written = -Infinity;

  /** The link in the address now, without #; "" if there is none. @returns {string} */
  read() {
    this.#fragment = location.hash.replace(/^#/, "");
    return this.#fragment;
  }

  /** Let the address show this link, soon. @param {string} fragment */
  write(fragment) {
    // The same once more changes nothing: what is about to be written still will be.
    if (fragment === this.#fragment) return;
    clearTimeout(this.#timer);
    this.#fragment = fragment;
    const rest = this.#written + WAIT - performance.now();
    if (rest <= 0) this.#put(fragment);
    else this.#timer = setTimeout(() => this.#put(fragment), rest);
  }

  /** @param {string} fragment */
  #put(fragment) {
    this.#written = performance.now();
    try {
      history.replaceState(history.state, "", `#${fragment}`);
    } catch {
      // Some frames forbid it. The document is not harmed; the next change tries again.
    }
  }

  /** Hear of links that come by hand: a link clicked, an address typed, the back key. @param {(fragment: string) => void} hear */
  listen(hear) {
    addEventListener("hashchange", () => {
      const before = this.#fragment;
      const now = location.hash.replace(/^#/, "");
      if (now === before) return;
      clearTimeout(this.#timer);
      this.#fragment = now;
      if (now) hear(now);
    });
  }
}
