/**
 * The words of the page, as templates of the state: the chosen variation as a sentence, which stands in its stage, and
 * below all stages what can come next.
 */

import { html, nothing } from "lit";
import { layBefore } from "./page-playing.js";
import { layStaff } from "./page-staff.js";
import { studyButtons } from "./page-study.js";
import { layFork } from "./page-ways.js";

/** @typedef {import("./store.js").State} State @typedef {import("./commands.js").Commands} Commands */

/** @type {WeakMap<Commands, (key: number, setting: string) => Promise<any>>} one function each, so that nothing is drawn anew */
const askers = new WeakMap();

/** @param {State} state @param {Commands} commands @param {() => import("../view/light.js").Heard | null} clock */
export function layWords(state, commands, clock) {
  const { view, chosen, kinds } = state;
  const stage = view?.stages[chosen];
  if (!view || !stage) return nothing;
  const key = stage.key;
  const settings = kinds.find(({ kind }) => kind === stage.kind)?.settings ?? [];
  return html`<div class="words" slot="words"><div class="say">
    <gb-sentence .stage=${stage} .total=${view.stages.length} .settings=${settings} .trying=${state.before !== null}
      .locked=${view.newer !== null} .choices=${asker(commands)}
      @word=${async (/** @type {CustomEvent} */ { detail: { setting, value, done } }) =>
        done(await commands.attempt({ ask: "word", key, setting, value }))}
      @keep=${async (/** @type {CustomEvent} */ e) => e.detail.done(await commands.keep())}
      @drop=${async (/** @type {CustomEvent} */ e) => e.detail.done(await commands.drop())}
      @name=${async (/** @type {CustomEvent} */ { detail: { done, ...named } }) => done(await commands.edit({ ask: "name", ...named }))}
      @remove=${() => commands.edit({ ask: "remove", key })}
      @move=${(/** @type {CustomEvent} */ e) => commands.edit({ ask: "move", key, to: e.detail.to })}></gb-sentence>
    ${stage.stage > 0 && !view.newer
      ? html`<gb-hint name="words" text="Every underlined word can be changed: pick another, listen, then keep it or take it back."></gb-hint>`
      : nothing}
    ${layFork(state, commands)}
  </div>${layStaff(state, commands, clock)}${layBefore(state, commands, studyButtons(state))}</div>`;
}

/** @param {State} state @param {Commands} commands */
export function layNext({ view, chosen, kinds, purposes }, commands) {
  const stage = view?.stages[chosen];
  if (!view || !stage || view.newer) return nothing;
  return html`<gb-next .kinds=${kinds} .purposes=${purposes} .place=${stage.stage === 0 ? "the base beat" : `stage ${stage.stage}`}
    .basis=${`${chosen} ${view.document}`} .find=${(/** @type {string} */ purpose) => commands.inquire({ ask: "purpose", purpose, stage: chosen })}
    @add=${(/** @type {CustomEvent} */ e) => add(e, commands, { ask: "add", kind: e.detail.kind, after: stage.key })}
    @begin=${(/** @type {CustomEvent} */ e) => add(e, commands, { ask: "begin", ...e.detail, after: stage.key })}></gb-next>`;
}

/** @param {CustomEvent} event @param {Commands} commands @param {any} change */
async function add(event, commands, change) {
  const page = /** @type {HTMLElement} */ (event.currentTarget).parentElement;
  if (!(await commands.attempt(change))) return;
  // The state is drawn in a microtask after this one; the keyboard goes where the new variation can be kept.
  requestAnimationFrame(() => {
    const sentence = /** @type {import("../view/gb-sentence.js").GbSentence | null | undefined} */ (page?.querySelector("gb-sentence"));
    sentence?.askToKeep();
    sentence?.scrollIntoView({ block: "nearest" });
  });
}

/** @param {Commands} commands */
function asker(commands) {
  let ask = askers.get(commands);
  if (!ask) {
    ask = (key, setting) => commands.inquire({ ask: "choices", key, setting });
    askers.set(commands, ask);
  }
  return ask;
}
