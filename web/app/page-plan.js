/**
 * The practice plan, as a template of the state.
 */

import { html, nothing } from "lit";
import { frameOf } from "../draw/frame.js";
import { cleanTempo, keepCleanTempo } from "./own-tempos.js";
import "../view/gb-plan.js";

/** @typedef {import("./store.js").State} State @typedef {import("./commands.js").Commands} Commands */
/** @typedef {import("../draw/shapes.js").View} View @typedef {import("../protocol/messages.js").PlanStepInfo} Step */

/** Bars of each stage when two are played in turn, where a stage is not longer: as the plan says it. */
const BARS = 2;

/** @param {State} state @param {Commands} commands */
export function layPlan({ view, before, chosen, beforeChosen, sound, click }, commands) {
  const shown = before ?? view; // what is only tried is not practised
  if (!shown || shown.newer) return nothing;
  const { document, link, stages, title } = shown;
  return html`<gb-plan .stages=${stages} .chosen=${Math.min(before ? beforeChosen : chosen, stages.length - 1)}
    .titled=${title !== ""} .address=${link ? new URL(`#${link}`, location.href).href : ""} .sounding=${sound === "playing" || sound === "loading"} .clicks=${click}
    .ask=${(/** @type {{ [field: string]: unknown }} */ question) => commands.study({ ask: "plan", ...question }, shown)}
    .draw=${(/** @type {number} */ stage) => commands.probe({ ask: "sheet", sheet: "count", stage, of: "", seed: 1, document, kit: shown.kit?.text ?? "" })}
    .play=${(/** @type {Step | null} */ step, /** @type {number} */ tempo) =>
      commands.rehearse(step && { ...step, document, tempo, turns: turnsOf(shown, step) })}
    .pace=${(/** @type {number} */ bpm) => commands.pace(bpm)}
    .known=${(/** @type {number} */ stage) => cleanTempo(title, stage)}
    .keep=${(/** @type {number} */ stage, /** @type {number} */ bpm) => keepCleanTempo(title, stage, bpm)}
    @click-on=${(/** @type {CustomEvent} */ e) => commands.setClick({ on: e.detail.on })}></gb-plan>`;
}

/**
 * How many passes of each stage fill its turn.
 * @param {View} view @param {Step} step @returns {[number, number]} of the stage before, of the stage itself
 */
function turnsOf(view, { stage, against }) {
  const bars = [against ?? stage, stage].map((number) => frameOf(view, number).bars);
  const each = Math.max(...bars) > BARS ? 0 : BARS;
  return [Math.max(1, Math.floor(each / bars[0])), Math.max(1, Math.floor(each / bars[1]))];
}
