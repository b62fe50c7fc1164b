/**
 * What stands on and beside the chosen stage about playing it, as templates of the state.
 */

import { html, nothing } from "lit";
import "../view/gb-before.js";
import { tellLimits } from "../view/gb-limits.js";

/** @typedef {import("./store.js").State} State @typedef {import("./commands.js").Commands} Commands */

/** What to know before it is played. @param {State} state @param {Commands} commands @param {unknown} more what else can be asked about playing it */
export function layBefore(state, commands, more = nothing) {
  const { view, chosen, playing, home } = state;
  const stage = view?.stages[chosen];
  if (!view || !stage) return nothing;
  return html`<gb-before .playing=${playing} .stale=${state.playingStale} .home=${home.get(stage.key) ?? null} .view=${view} .chosen=${chosen}
    .tempo=${state.tempo ?? view.tempo} .spot=${state.spot} .types=${state.strokeTypes} .onlyBase=${state.mix === 0}
    @spot=${(/** @type {CustomEvent} */ e) => commands.look(e.detail)}
    @types=${(/** @type {CustomEvent} */ e) => commands.look({ strokeTypes: e.detail.on })}
    @part=${(/** @type {CustomEvent} */ e) => commands.hearPart(e.detail.range)}
    @home=${(/** @type {CustomEvent} */ e) => commands.listen({ mix: e.detail.on ? 0 : 1 })}
    @leave=${(/** @type {CustomEvent} */ e) => leave(e, commands, chosen)}>${more}</gb-before>`;
}

/** How fast it can go. @param {State} state */
export function layLimits({ view, playing, tempo }) {
  return html`<gb-limits slot="limits" .playing=${playing} .tempo=${tempo ?? view?.tempo ?? 100}></gb-limits>`;
}

/** Whether the practice tempo is past what is comfortable. @param {State} state @returns {boolean} */
export function isPast({ view, playing, tempo }) {
  return playing !== null && tellLimits(playing, tempo ?? view?.tempo ?? 100)[1];
}

/** @param {CustomEvent} event @param {Commands} commands @param {number} stage */
async function leave({ detail: { ids } }, commands, stage) {
  if (await commands.edit({ ask: "leave_out", stage, ids: ids.join("\n") })) commands.look({ spot: -1 });
}
