/**
 * The chosen stage on a staff, as a template of the state.
 */

import { html, nothing } from "lit";
import "../view/gb-staff.js";

/** @typedef {import("./store.js").State} State @typedef {import("./commands.js").Commands} Commands */

/** @param {State} state @param {Commands} commands @param {() => import("../view/light.js").Heard | null} clock */
export function layStaff({ view, chosen, staff, player, sound, engine, partial }, commands, clock) {
  if (!view?.stages[chosen]) return nothing;
  return html`<gb-staff .look=${staff} .view=${view} .stage=${chosen} .basis=${`${chosen} ${view.kit?.text ?? ""} ${player} ${view.document}`}
    .playing=${sound === "playing"} .off=${engine !== "ready" || partial} .clock=${clock}
    .find=${(/** @type {{ [field: string]: unknown }} */ how) => commands.study({ ask: "staff", stage: chosen, ...how }, view)}
    @staff-set=${(/** @type {CustomEvent} */ e) => commands.setStaff(e.detail)}></gb-staff>`;
}
