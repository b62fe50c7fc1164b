/**
 * What was asked to be played, and which of it is the audio thread playing?
 *
 * A plan is a list of timelines with passes. Every entry carries a tag, a number of its own, which the audio thread
 * reports back; so the page knows which stage is on. A plan is kept until a later one is reported: a tempo change has
 * to reach both. Timelines have keys, the same at every tempo. The count-in of the first entry is a timeline of its own;
 * its tag is 0, which no entry has.
 */

/** @typedef {import("./line.js").Timeline} Timeline */
/** @typedef {{timeline: Timeline, passes: number, stage?: number}} Item  passes 0: without end */
/** @typedef {{entries: (Item & {tag: number})[], then: "stop"|"stay"|"again"}} Plan */

/**
 * Lay a list of items out up to the last and back to the first.
 *
 * @template T
 * @param {ReadonlyArray<T>} items
 * @returns {T[]}
 */
export function upAndBack(items) {
  return [...items, ...items.slice(0, -1).reverse()];
}

/**
 * Name the surfaces that a plan strikes or silences.
 *
 * @param {Plan} plan
 * @returns {Set<string>}
 */
export function surfacesOf(plan) {
  return new Set(plan.entries.flatMap(({ timeline }) => timeline.events.map((event) => event.surface)));
}

/**
 * Name all that a plan needs sounds of: its surfaces, and the count where one is wished for.
 *
 * @param {Plan} plan
 * @param {string} counted
 */
export function needsOf(plan, counted) {
  return surfacesOf(plan).add(counted);
}

export class Plans {
  /** @type {Plan[]} oldest first */
  #plans = [];
  /** @type {WeakMap<Timeline, number>} */
  #keys = new WeakMap();
  /** @type {WeakMap<Timeline, Timeline>} */
  #leads = new WeakMap();
  #numbers = 0;
  #heard = 0;

  /**
   * @param {ReadonlyArray<Item>} items
   * @param {Plan["then"]} then
   * @returns {Plan}
   */
  make(items, then) {
    return { entries: items.map((item) => ({ ...item, tag: ++this.#numbers })), then };
  }

  /** @returns {Plan|undefined} */
  get newest() {
    return this.#plans.at(-1);
  }

  /** @param {Plan} plan */
  add(plan) {
    this.#plans.push(plan);
  }

  /** Forget all others. @param {Plan} plan */
  only(plan) {
    this.#plans = [plan];
    this.#heard = 0;
  }

  /** Timelines that may be playing or waiting. @returns {Set<Timeline>} */
  get timelines() {
    const leads = this.#plans.map((plan) => this.lead(plan)).filter((lead) => lead !== null);
    return new Set([...this.#plans.flatMap((plan) => plan.entries.map((entry) => entry.timeline)), ...leads]);
  }

  /** What is counted before a plan, null for nothing. @param {Plan} plan @returns {Timeline|null} */
  lead({ entries }) {
    const [{ timeline }] = entries;
    if (!timeline.count_in) return null;
    const known = this.#leads.get(timeline);
    if (known !== undefined) return known;
    const lead = { ...timeline, ...timeline.count_in, events: [], rounds: 1, count_in: null, counting: true };
    this.#leads.set(timeline, lead);
    return lead;
  }

  /** @param {Timeline} timeline */
  key(timeline) {
    let key = this.#keys.get(timeline);
    if (key === undefined) this.#keys.set(timeline, (key = ++this.#numbers));
    return key;
  }

  /**
   * Take note that the audio thread plays the entry with this tag.
   *
   * @param {number} tag
   * @returns {{stage: number, index: number, news: boolean}|null} null for a tag that is not known any more
   */
  hear(tag) {
    const at = this.#plans.findIndex((plan) => plan.entries.some((entry) => entry.tag === tag));
    if (at < 0) return null;
    const index = this.#plans[at].entries.findIndex((entry) => entry.tag === tag);
    const { timeline, stage = timeline.stage } = this.#plans[at].entries[index];
    const news = tag !== this.#heard;
    this.#heard = tag;
    this.#plans.splice(0, at);
    return { stage, index, news };
  }
}
