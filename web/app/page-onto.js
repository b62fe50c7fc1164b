/**
 * Two ways to see the same variations elsewhere, as templates of the state: on the student's own kit, and on another
 * beat.
 */

import { html, nothing } from "lit";
import { FileTrouble, readFile } from "../input/files.js";
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
      .carry=${(/** @type {string} */ onto) => commands.probe({ ask: "carry", document, onto, kit })}
      .carryFile=${(/** @type {File} */ file) => carryFile(file, document, kit, commands)}
      @take=${(/** @type {CustomEvent} */ e) => commands.take(e.detail.document)}></gb-onto>`;
}

/**
 * Bring another beat as a file: of a MIDI file the first bar with strokes.
 * @param {File} file @param {string} document @param {string} kit @param {Commands} commands @returns {Promise<any>}
 */
async function carryFile(file, document, kit, commands) {
  try {
    const given = await readFile(file);
    if (given.kind === "text") return await commands.probe({ ask: "carry", document, onto: given.text, name: given.name, kit });
    const made = await commands.probe({ ask: "open_midi", name: given.name, base64: given.base64 });
    return made.trouble ? made : await commands.probe({ ask: "carry", document, onto: made.document, kit });
  } catch (error) {
    if (!(error instanceof FileTrouble)) throw error;
    return { trouble: error.message };
  }
}

/** @param {Event} event @param {"gb-kit" | "gb-onto"} name */
function open(event, name) {
  const root = /** @type {HTMLElement} */ (event.currentTarget).closest("main");
  /** @type {any} */ (root?.querySelector(name))?.show();
}
