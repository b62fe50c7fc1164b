/**
 * What else can be asked about playing a stage: how to practise it, what could come next, and who plays. The buttons
 * stand in the chosen stage, what they open is as far as one step away.
 */

import { html, nothing } from "lit";
import { layPlan } from "./page-plan.js";
import { layPlayer } from "./page-player.js";
import { laySuggest } from "./page-suggest.js";

/** @typedef {import("./store.js").State} State @typedef {import("./commands.js").Commands} Commands */

/** The buttons. @param {State} state */
export function studyButtons({ view, playing, engine, player }) {
  if (!view) return nothing;
  const off = engine !== "ready";
  const hard = playing !== null && playing.verdict.kind !== "playable";
  return html`<span class="study">
    ${view.newer
      ? nothing
      : html`<button type="button" aria-haspopup="dialog" ?disabled=${off} @click=${(/** @type {Event} */ e) => open(e, "gb-plan")}>Practice plan</button>
        ${hard ? html`<button type="button" aria-haspopup="dialog" ?disabled=${off} @click=${(/** @type {Event} */ e) => open(e, "gb-suggest", "easier")}>Make it easier</button>` : nothing}
        <button type="button" aria-haspopup="dialog" ?disabled=${off} @click=${(/** @type {Event} */ e) => open(e, "gb-suggest")}>Suggestions</button>`}
    <button type="button" aria-haspopup="dialog" ?disabled=${off} @click=${(/** @type {Event} */ e) => open(e, "gb-player")}>${player ? "Who plays: you" : "Who plays"}</button>
  </span>`;
}

/** What they open. @param {State} state @param {Commands} commands */
export function layStudy(state, commands) {
  return html`${layPlan(state, commands)}${laySuggest(state, commands)}${layPlayer(state, commands)}`;
}

/** @param {Event} event @param {"gb-plan" | "gb-suggest" | "gb-player"} name @param {string} [wish] */
function open(event, name, wish) {
  const root = /** @type {HTMLElement} */ (event.currentTarget).closest("main");
  /** @type {any} */ (root?.querySelector(name))?.show(wish);
}
