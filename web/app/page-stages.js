/**
 * The part of the page where the beat and its stages stand, as a template of the state.
 */

import { html } from "lit";
import { placeCommandOf } from "../input/keys.js";
import { watchHand } from "../input/pointer.js";
import "../view/gb-frame.js";

/** What the stages know of pointers and keys. */
const HANDS = { watch: watchHand, commandOf: placeCommandOf };

/**
 * @param {import("./store.js").State} state @param {import("./commands.js").Commands} commands @param {() => any} clock
 * @param {unknown} words what stands in the chosen stage, below its lines
 */
export function layStages(state, commands, clock, words) {
  /** @param {CustomEvent} event */
  const edit = async ({ detail: { change, done } }) => done(await commands.edit(change));
  return html`<gb-frame .view=${state.view} .canUndo=${state.canUndo || state.before !== null} .canRedo=${state.canRedo}
      @undo=${() => commands.undo()} @redo=${() => commands.redo()} @edit=${edit}></gb-frame>
    <gb-stages aria-busy=${state.partial ? "true" : "false"} .view=${state.view} .chosen=${state.chosen} .playing=${state.sound === "playing"} .led=${state.turns.on || state.through.on} .steered=${steered} .clock=${clock} .hands=${HANDS}
      .findColumns=${(/** @type {string} */ columns) => commands.inquire({ ask: "columns", columns })}
      .findKit=${() => commands.probe({ ask: "kinds" })} .muted=${state.muted} .soloed=${state.soloed} @accept=${(/** @type {CustomEvent} */ e) => commands.edit({ ask: "accept", ...e.detail })}
      .known=${state.playing} .home=${state.home} .types=${state.strokeTypes} .spot=${state.spot}
      @spot=${(/** @type {CustomEvent} */ e) => commands.look(e.detail)}
      @choose=${(/** @type {CustomEvent} */ e) => commands.choose(e.detail.stage)}
      @switch=${(/** @type {CustomEvent} */ e) => commands.switch(e.detail)} @edit=${edit}
      @hear=${(/** @type {CustomEvent} */ e) => commands.listen(e.detail)}>${words}</gb-stages>`;
}

/** What must not leave the screen because the sound has gone on to another stage. */
function steered() {
  return /** @type {import("../view/gb-listening.js").GbListening | null} */ (document.querySelector("gb-listening"))?.steering ?? null;
}
