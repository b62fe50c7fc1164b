/**
 * The part of the page where the beat and its stages stand, as a template of the state.
 */

import { html } from "lit";

/** @param {import("./store.js").State} state @param {import("./commands.js").Commands} commands @param {() => any} clock */
export function layStages(state, commands, clock) {
  return html`<gb-stages .view=${state.view} .chosen=${state.chosen} .playing=${state.sound === "playing"} .clock=${clock}
    @choose=${(/** @type {CustomEvent} */ e) => commands.choose(e.detail.stage)}
    @switch=${(/** @type {CustomEvent} */ e) => commands.switch(e.detail)}></gb-stages>`;
}
