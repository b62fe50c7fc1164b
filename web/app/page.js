/**
 * The page as a template of the state: what stands where. It decides nothing.
 */

import { html, nothing } from "lit";
import { layStages } from "./page-stages.js";

/** @typedef {import("./store.js").State} State */
/** @typedef {import("./store.js").Topic} Topic */

/** @type {Topic[]} */
const TOPICS = ["open", "edit", "engine", "sound"];

/**
 * Lay out the page.
 * @param {State} state @param {import("./commands.js").Commands} commands
 * @param {() => import("../view/light.js").Heard | null} clock
 */
export function layPage(state, commands, clock) {
  const { view } = state;
  const starting = state.engine === "starting" || state.engine === "restarting" || state.engine === "idle";
  return html`
    ${masthead(state)}
    ${TOPICS.map((topic) => html`<gb-notice .text=${state.notices[topic]?.text ?? ""} .trouble=${state.notices[topic]?.trouble ?? false}
      .again=${state.notices[topic]?.again ?? false} data-topic=${topic} @dismiss=${() => commands.dismiss(topic)}
      @again=${() => commands.again()}></gb-notice>`)}
    ${starting
      ? html`<gb-starting .stage=${state.engineStage} .done=${state.engineDone} .outline=${state.expecting}
          .again=${state.engine === "restarting"}></gb-starting>`
      : nothing}
    ${view ? transport(state, commands) : nothing}
    ${view ? layStages(state, commands, clock) : state.expecting ? nothing : empty()}
    ${view ? remarks(view) : nothing}
    <gb-opener .beats=${state.beats} @text=${(/** @type {CustomEvent} */ e) => commands.open(e.detail.text)}
      @file=${(/** @type {CustomEvent} */ e) => commands.openFile(e.detail.file, e.detail.bars)}></gb-opener>
    ${state.dropping ? html`<div class="dropping" aria-hidden="true"><p>Let go to open it</p></div>` : nothing}
  `;
}

/** @param {State} state */
function masthead({ view, origin, expecting }) {
  const facts = view ? [view.meter, view.columns, view.bars === 1 ? "1 bar" : `${view.bars} bars`] : [];
  return html`<header>
    <div class="title">
      <h1 dir="auto">${view ? view.title || "A beat without a title" : expecting ? "Opening the beat" : "Groundbeat"}</h1>
      ${view
        ? html`<p class="facts">${origin === "example" ? html`<span class="tag">an example</span> ` : nothing}${facts.join(" · ")}</p>`
        : nothing}
      ${view?.note ? html`<p class="note" dir="auto">“${view.note}”</p>` : nothing}
    </div>
    <button type="button" class="open" @click=${openDialog}>Open a beat</button>
  </header>`;
}

/** @param {State} state @param {import("./commands.js").Commands} commands */
function transport(state, commands) {
  const { view, through } = state;
  const ready = state.timeline !== null || state.sound === "playing";
  return html`<div class="transport">
      <gb-transport .state=${state.sound} .ready=${ready} .tempo=${state.tempo ?? view?.tempo ?? 100} .goal=${view?.tempo ?? 100}
        .unit=${view?.tempo_unit ?? ""} .mix=${state.mix} .chosen=${state.chosen} .stages=${view?.stages.length ?? 1}
        @toggle=${() => commands.toggle()} @tempo=${(/** @type {CustomEvent} */ e) => commands.setTempo(e.detail.bpm)}
        @mix=${(/** @type {CustomEvent} */ e) => commands.listen(e.detail)}
        @step=${(/** @type {CustomEvent} */ e) => commands.step(e.detail.by)}></gb-transport>
    </div>
    <div class="listening">
      <gb-listening .ready=${ready && (view?.stages.length ?? 0) > 1} .chosen=${state.chosen} .onlyAdded=${state.onlyAdded} .clicks=${state.click} .through=${through}
        .tempo=${state.tempo ?? view?.tempo ?? 100} @tempo=${(/** @type {CustomEvent} */ e) => commands.setTempo(e.detail.bpm)}
        @listen=${(/** @type {CustomEvent} */ e) => commands.listen(e.detail)}
        @through=${(/** @type {CustomEvent} */ e) => commands.through(e.detail)}></gb-listening>
      <p class="care">Protect your hearing, take breaks, stop if it hurts.</p>
    </div>`;
}

/** @param {import("../draw/shapes.js").View} view */
function remarks(view) {
  const says = [...view.says];
  if (view.newer) says.push(view.newer.message);
  if (view.link_trouble) says.push(view.link_trouble);
  return says.length ? html`<section class="remarks" aria-label="About this beat">${says.map((text) => html`<p>${text}</p>`)}</section>` : nothing;
}

function empty() {
  return html`<section class="empty">
    <p>Nothing is open yet.</p>
    <p>Open one of the common beats, a groove file or a drum MIDI file, or paste a link. You can also drop a file anywhere here.</p>
    <button type="button" class="main" @click=${openDialog}>Open a beat</button>
  </section>`;
}

/** @param {Event} event */
function openDialog(event) {
  const root = /** @type {HTMLElement} */ (event.currentTarget).closest("main");
  /** @type {import("../view/gb-opener.js").GbOpener | null} */ (root?.querySelector("gb-opener"))?.show();
}
