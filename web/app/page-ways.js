/**
 * Where another way is begun and where the others are kept, as templates of the state.
 */

import { html, nothing } from "lit";
import "../view/gb-fork.js";
import "../view/gb-ways.js";

/** @typedef {import("./store.js").State} State @typedef {import("./commands.js").Commands} Commands */

/** The control in the chosen stage; nothing where nothing comes after it. @param {State} state @param {Commands} commands */
export function layFork({ view, chosen }, commands) {
  const stage = view?.stages[chosen];
  if (!view || !stage || view.newer || chosen >= view.stages.length - 1) return nothing;
  return html`<gb-fork .place=${chosen ? `stage ${chosen}` : "the base beat"}
    @fork=${(/** @type {CustomEvent} */ e) => fork(e, commands, stage.key)}></gb-fork>`;
}

/** The other ways. @param {State} state @param {Commands} commands */
export function layWays({ view, before }, commands) {
  if (!view) return nothing;
  const kept = before ?? view; // what is only heard is not what is kept
  return html`<gb-ways .ways=${kept.ways} .trying=${before !== null} .safe=${commands.keepsWays}
    @hear=${async (/** @type {CustomEvent} */ { detail: { way, tried, done } }) => {
      if (before && !tried) commands.keep(); // a word that is tried; what comes next waits for it
      done(await commands.hear({ ask: "exchange", way }));
    }}
    @back=${async (/** @type {CustomEvent} */ { detail: { done } }) => done(await commands.drop())}
    @take=${async (/** @type {CustomEvent} */ { detail: { way, tried, done } }) => {
      if (tried === "other") commands.drop();
      done(await (tried === "this" ? commands.keep() : commands.edit({ ask: "exchange", way })));
    }}
    @part=${async (/** @type {CustomEvent} */ { detail: { way, tried, done } }) => {
      if (tried) commands.drop();
      done(await commands.edit({ ask: "part", way }));
    }}
    @call=${async (/** @type {CustomEvent} */ { detail: { way, name, tried } }) => {
      if (tried) commands.drop();
      await commands.edit({ ask: "call", way, name });
    }}></gb-ways>`;
}

/** @param {CustomEvent} event @param {Commands} commands @param {number} after */
async function fork(event, commands, after) {
  const main = /** @type {HTMLElement} */ (event.currentTarget).closest("main");
  if (!(await commands.edit({ ask: "fork", after }))) return;
  // The state is drawn in a microtask after this one; the keyboard goes where the kept way stands.
  requestAnimationFrame(() => {
    const ways = /** @type {import("../view/gb-ways.js").GbWays | null | undefined} */ (main?.querySelector("gb-ways"));
    ways?.welcome();
  });
}
