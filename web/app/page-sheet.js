/**
 * The sheets for a class, as a template of the state.
 */

import { html, nothing } from "lit";
import "../view/gb-sheet.js";

/** @typedef {import("./store.js").State} State @typedef {import("./commands.js").Commands} Commands */

/** @param {State} state @param {Commands} commands */
export function laySheet({ view, before, chosen, beforeChosen, sound, kit }, commands) {
  const shown = before ?? view; // what is only tried is on no sheet
  if (!shown) return nothing;
  const { document, link, stages } = shown;
  return html`<gb-sheet .stages=${stages} .chosen=${Math.min(before ? beforeChosen : chosen, stages.length - 1)}
    .address=${link ? new URL(`#${link}`, location.href).href : ""} .sounding=${sound === "playing" || sound === "loading"}
    .ask=${(/** @type {{ [field: string]: unknown }} */ question) => commands.probe({ ask: "sheet", document, kit, ...question })}
    .play=${(/** @type {number} */ stage, /** @type {number} */ times) => commands.once(document, stage, times)}></gb-sheet>`;
}
