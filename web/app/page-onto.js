/**
 * Two ways to see the same variations elsewhere, as templates of the state: on the student's own kit, and on another
 * beat.
 */

import { html, nothing } from "lit";
import { FileTrouble, questionOf, readFile, readText } from "../input/files.js";
import "../view/gb-kit.js";
import "../view/gb-onto.js";

/** @typedef {import("./store.js").State} State @typedef {import("./commands.js").Commands} Commands */

/** What is played where on the student's kit, and the choice of it. @param {State} state @param {Commands} commands */
export function layKit({ view, kit, things, presets }, commands) {
  return html`<gb-kit .shown=${view?.kit ?? null} .kit=${kit} .things=${things} .presets=${presets}
    @kit=${(/** @type {CustomEvent} */ e) => commands.setKit(e.detail.kit)}></gb-kit>`;
}

/** The button that opens the choice of a kit. @param {State} state */
export function kitButton({ presets }) {
  return html`<button type="button" class="my-kit" aria-haspopup="dialog" ?disabled=${!presets.length}
    @click=${(/** @type {Event} */ e) => open(e, "gb-kit")}>My kit</button>`;
}

/** Trying the variations on another beat. @param {State} state @param {Commands} commands */
export function layOnto({ view, before, beats, engine, kit }, commands) {
  const shown = before ?? view; // what is only tried does not come along
  if (!shown || shown.newer || shown.stages.length < 2) return nothing;
  const { document } = shown;
  return html`<p class="onto"><button type="button" aria-haspopup="dialog" ?disabled=${engine !== "ready"}
      @click=${(/** @type {Event} */ e) => open(e, "gb-onto")}>Try these variations on another beat</button></p>
    <gb-onto .view=${shown} .beats=${beats}
      .carry=${(/** @type {string} */ onto) => carry(readText(onto), document, kit, commands)}
      .carryFile=${(/** @type {File} */ file) => carryFile(file, document, kit, commands)}
      @take=${(/** @type {CustomEvent} */ e) => commands.take(e.detail.document)}></gb-onto>`;
}

/**
 * Bring another beat as a file: of a MIDI file or a score the first bar with strokes.
 * @param {File} file @param {string} document @param {string} kit @param {Commands} commands @returns {Promise<any>}
 */
async function carryFile(file, document, kit, commands) {
  try {
    return await carry(await readFile(file), document, kit, commands);
  } catch (error) {
    if (!(error instanceof FileTrouble)) throw error;
    return { trouble: error.message };
  }
}

/**
 * What is no text is first made a document of its own.
 * @param {import("../input/files.js").Given} given @param {string} document @param {string} kit @param {Commands} commands @returns {Promise<any>}
 */
async function carry(given, document, kit, commands) {
  const { name } = given;
  if (given.kind === "text") return commands.probe({ ask: "carry", document, onto: given.text, name, kit });
  const made = await commands.probe(questionOf(given));
  return made.trouble ? made : commands.probe({ ask: "carry", document, onto: made.document, kit });
}

/** @param {Event} event @param {"gb-kit" | "gb-onto"} name */
function open(event, name) {
  const root = /** @type {HTMLElement} */ (event.currentTarget).closest("main");
  /** @type {any} */ (root?.querySelector(name))?.show();
}
