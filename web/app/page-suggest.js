/**
 * What could come next, as a template of the state: a suggestion is tried before it is taken.
 */

import { html, nothing } from "lit";
import "../view/gb-suggest.js";

/** @typedef {import("./store.js").State} State @typedef {import("./commands.js").Commands} Commands */
/** @typedef {import("../protocol/messages.js").SuggestionInfo} Suggestion */

/** @param {State} state @param {Commands} commands */
export function laySuggest({ view, before, chosen, beforeChosen, kit, player, sound }, commands) {
  const shown = before ?? view; // suggestions are for what is kept, not for what is tried
  if (!shown || shown.newer) return nothing;
  const stage = Math.min(before ? beforeChosen : chosen, shown.stages.length - 1);
  return html`<gb-suggest .place=${stage ? `stage ${stage}` : "the base beat"} .basis=${`${stage} ${kit} ${player} ${shown.document}`}
    .now=${view?.document ?? ""} .sounding=${sound === "playing" || sound === "loading"} @stop=${() => commands.toggle()}
    .find=${(/** @type {{ wish: string, keep: string, seed: number }} */ question) => commands.study({ ask: "suggest", stage, ...question }, shown)}
    @hear=${(/** @type {CustomEvent} */ e) => hear(e, commands)}
    @back=${async (/** @type {CustomEvent} */ { detail: { done } }) => done(await commands.drop())}
    @take=${(/** @type {CustomEvent} */ e) => take(e, commands)}></gb-suggest>`;
}

/** @param {CustomEvent} event @param {Commands} commands */
async function hear({ currentTarget, detail: { suggestion, done } }, commands) {
  const main = mainOf(currentTarget);
  const heard = await commands.hear(changeOf(suggestion));
  done(heard);
  if (heard) requestAnimationFrame(() => bringIntoSight(main));
}

/** @param {CustomEvent} event @param {Commands} commands */
async function take({ currentTarget, detail: { suggestion, tried, done } }, commands) {
  const main = mainOf(currentTarget);
  if (tried === "other") commands.drop(); // what comes next waits for it
  const taken = await (tried === "this" ? commands.keep() : commands.edit(changeOf(suggestion)));
  done(taken);
  if (!taken) return;
  requestAnimationFrame(() => {
    const stages = /** @type {HTMLElement | null | undefined} */ (main?.querySelector("gb-stages"));
    /** @type {HTMLElement | null | undefined} */ (stages?.shadowRoot?.querySelector("section.chosen gb-head"))?.focus();
    bringIntoSight(main);
  });
}

/** @param {Suggestion} suggestion */
function changeOf({ key, after, kind, settings }) {
  return { ask: "take", key, after, kind, settings };
}

/** @param {EventTarget | null} element */
function mainOf(element) {
  return /** @type {HTMLElement} */ (element).closest("main");
}

/** Let the stage that is tried be seen beside or above the suggestions. @param {Element | null} main */
function bringIntoSight(main) {
  const chosen = main?.querySelector("gb-stages")?.shadowRoot?.querySelector("section.chosen");
  const still = matchMedia("(prefers-reduced-motion: reduce)").matches;
  chosen?.scrollIntoView({ block: "start", behavior: still ? "instant" : "smooth" });
}
