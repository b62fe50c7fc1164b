/**
 * Who plays, as a template of the state.
 */

import { html } from "lit";
import "../view/gb-player.js";

/** @typedef {import("./store.js").State} State @typedef {import("./commands.js").Commands} Commands */
/** @typedef {import("../draw/shapes.js").Playing} Playing */

/** @param {State} state @param {Commands} commands */
export function layPlayer({ player, chosen }, commands) {
  return html`<gb-player .player=${player} .ask=${(/** @type {string} */ text) => commands.probe({ ask: "player", player: text })}
    .effect=${(/** @type {string} */ text) => effectOf(text, chosen, commands)}
    @player=${(/** @type {CustomEvent} */ e) => commands.setPlayer(e.detail.player)}></gb-player>`;
}

/**
 * How fast a stage goes for a player, and for the usual one.
 * @param {string} player @param {number} stage @param {Commands} commands
 */
async function effectOf(player, stage, commands) {
  const [now, usual] = await Promise.all(
    [player, ""].map((text) => commands.study({ ask: "playing", stage, tempo: 0, player: text })),
  );
  if (!now.fastest || !usual.fastest) return null; // the engine's own state tells why
  return { place: stage ? `Stage ${stage}` : "The base beat", now: tempos(now), usual: tempos(usual) };
}

/** @param {Playing} playing @returns {string} */
function tempos({ comfortable, fastest }) {
  if (fastest.bpm === null) return "cannot be played at any tempo";
  return `${comfortable.bpm === null ? "" : `comfortable to ${comfortable.bpm}, `}possible to ${fastest.bpm}`;
}
