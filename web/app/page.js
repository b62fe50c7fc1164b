/**
 * The page as a template of the state: what stands where. It decides nothing.
 */

import { html, nothing } from "lit";
import { laySheet } from "./page-sheet.js";
import { layStages } from "./page-stages.js";
import { layWays } from "./page-ways.js";
import { kitButton, layKit, layOnto } from "./page-onto.js";
import { isPast, layLimits } from "./page-playing.js";
import { layStudy } from "./page-study.js";
import { soundOf } from "./saving.js";
import { makerOf } from "./taking.js";
import { layNext, layWords } from "./page-words.js";
import "../view/gb-help.js";
import "../view/gb-hint.js";
import "../view/gb-next.js";
import "../view/gb-offset.js";
import "../view/gb-sentence.js";
import "../view/gb-share.js";
import "../view/gb-sound-kit.js";

/** @typedef {import("./store.js").State} State */
/** @typedef {import("./store.js").Topic} Topic */

/** @type {Topic[]} */
const TOPICS = ["open", "engine", "sound"];

/**
 * Lay out the page.
 * @param {State} state @param {import("./commands.js").Commands} commands
 * @param {() => import("../view/light.js").Heard | null} clock
 */
export function layPage(state, commands, clock) {
  const { view } = state;
  const starting = state.engine === "starting" || state.engine === "restarting" || state.engine === "idle";
  return html`
    ${masthead(state, commands)}
    ${TOPICS.map((topic) => notice(topic, state, commands))}
    ${starting
      ? html`<gb-starting .stage=${state.engineStage} .done=${state.engineDone} .outline=${state.expecting}
          .again=${state.engine === "restarting"}></gb-starting>`
      : nothing}
    ${view ? transport(state, commands) : nothing}
    ${view ? layKit(state, commands) : nothing}
    ${view ? layStages(state, commands, clock, layWords(state, commands, clock)) : state.expecting ? nothing : empty(state, commands)}
    ${notice("edit", state, commands)}
    ${layWays(state, commands)}
    ${layNext(state, commands)}
    ${layOnto(state, commands)}
    ${view ? remarks(view) : nothing}
    <gb-opener .beats=${state.beats} @text=${(/** @type {CustomEvent} */ e) => commands.open(e.detail.text)}
      @file=${(/** @type {CustomEvent} */ e) => commands.openFile(e.detail.file, e.detail.bars)}></gb-opener>
    ${share(state, commands)}
    ${laySheet(state, commands)}
    ${layStudy(state, commands)}
    <gb-help></gb-help>
    ${state.dropping ? html`<div class="dropping" aria-hidden="true"><p>Let go to open it</p></div>` : nothing}
  `;
}

/** @param {Topic} topic @param {State} state @param {import("./commands.js").Commands} commands */
function notice(topic, state, commands) {
  const { text = "", trouble = false, again = false } = state.notices[topic] ?? {};
  return html`<gb-notice .text=${text} .trouble=${trouble} .again=${again} data-topic=${topic}
    @dismiss=${() => commands.dismiss(topic)} @again=${() => commands.again()}></gb-notice>`;
}

/** @param {State} state @param {import("./commands.js").Commands} commands */
function masthead({ view, origin, expecting, engine }, commands) {
  const facts = view ? [view.meter, view.columns, view.bars === 1 ? "1 bar" : `${view.bars} bars`] : [];
  // An even feel goes without saying.
  if (view && (view.swing !== "straight" || Object.keys(view.pushes).length)) facts.push(view.feel.replace(/^./, (c) => c.toLowerCase()).replace(/\.$/, ""));
  return html`<header>
    <div class="title">
      <h1 dir="auto">${view ? view.title || "A beat without a title" : expecting ? "Opening the beat" : "Groundbeat"}</h1>
      ${view
        ? html`<p class="facts">${origin === "example" ? html`<span class="tag">an example</span> ` : nothing}${facts.join(" · ")}</p>`
        : nothing}
      ${view?.note ? html`<p class="note" dir="auto">“${view.note}”</p>` : nothing}
    </div>
    <div class="ways">
      <button type="button" ?disabled=${engine !== "ready"} @click=${() => commands.startNew()}>New beat</button>
      <button type="button" @click=${(/** @type {Event} */ e) => show(e, "gb-opener")}>Open a beat</button>
      ${view ? html`<button type="button" class="share" @click=${(/** @type {Event} */ e) => show(e, "gb-share")}>Share</button>` : nothing}
      <button type="button" @click=${(/** @type {Event} */ e) => show(e, "gb-help")}>Help</button>
    </div>
  </header>`;
}

/** @param {State} state @param {import("./commands.js").Commands} commands */
function transport(state, commands) {
  const { view, through } = state;
  const ready = state.timeline !== null || state.sound === "playing";
  return html`<div class="transport">
      <gb-transport .state=${state.sound} .ready=${ready} .tempo=${state.tempo ?? view?.tempo ?? 100} .goal=${view?.tempo ?? 100}
        .unit=${view?.tempo_unit ?? ""} .mix=${state.mix} .chosen=${state.chosen} .stages=${view?.stages.length ?? 1} .past=${isPast(state)}
        @toggle=${() => commands.toggle()} @tempo=${(/** @type {CustomEvent} */ e) => commands.setTempo(e.detail.bpm)}
        @mix=${(/** @type {CustomEvent} */ e) => commands.listen(e.detail)}
        @step=${(/** @type {CustomEvent} */ e) => commands.step(e.detail.by)}>${layLimits(state)}</gb-transport>
    </div>
    <div class="listening">
      <gb-listening .view=${view} .range=${state.range} .volume=${state.volume} .muted=${state.muted} .soloed=${state.soloed} .ready=${ready && (view?.stages.length ?? 0) > 1} .chosen=${state.chosen} .onlyAdded=${state.onlyAdded} .clicks=${state.click} .clicking=${state.clicking} .through=${through}
        .heardPart=${state.part} .nothingHeard=${state.timeline?.events.length === 0} .turns=${state.turns}
        @part-set=${(/** @type {CustomEvent} */ e) => commands.setPart(e.detail.part)}
        @turns-set=${(/** @type {CustomEvent} */ e) => commands.turns(e.detail)} @change-over=${() => commands.changeOver()}
        @click-set=${(/** @type {CustomEvent} */ e) => commands.setClick(e.detail)}
        .loose=${state.loose} @loose=${(/** @type {CustomEvent} */ e) => commands.setLoose(e.detail.loose)}
        .tempo=${state.tempo ?? view?.tempo ?? 100} @tempo=${(/** @type {CustomEvent} */ e) => commands.setTempo(e.detail.bpm)}
        @listen=${(/** @type {CustomEvent} */ e) => commands.listen(e.detail)}
        @loop=${(/** @type {CustomEvent} */ e) => commands.loop(e.detail.range)}
        @through=${(/** @type {CustomEvent} */ e) => commands.through(e.detail)}>
        ${kitButton(state)}
        <gb-offset .offset=${state.offset} .latency=${() => commands.latency()} @offset=${(/** @type {CustomEvent} */ e) => commands.listen(e.detail)}></gb-offset>
        <gb-sound-kit .sounds=${state.sounds} .chosen=${state.sounding}
          @sound=${(/** @type {CustomEvent} */ e) => commands.setSound(e.detail.name)}></gb-sound-kit>
        <p class="care">Protect your hearing, take breaks, stop if it hurts.</p>
      </gb-listening>
    </div>`;
}

/** @param {import("../draw/shapes.js").View} view */
function remarks(view) {
  const says = [...view.says];
  if (view.newer) says.push(view.newer.message);
  if (view.link_trouble) says.push(view.link_trouble);
  return says.length ? html`<section class="remarks" aria-label="About this beat">${says.map((text) => html`<p>${text}</p>`)}</section>` : nothing;
}

/** @param {State} state @param {import("./commands.js").Commands} commands */
function empty({ beats, engine }, commands) {
  return html`<section class="empty" aria-labelledby="nothing">
    <h2 id="nothing">Nothing is open yet.</h2>
    <p>Begin with an empty beat and tap the strokes in, or take a beat that you know and let it grow.</p>
    <p class="ways"><button type="button" class="main" ?disabled=${engine !== "ready"} @click=${() => commands.startNew()}>New beat</button>
      <button type="button" @click=${(/** @type {Event} */ e) => show(e, "gb-opener")}>Open a file or link</button></p>
    ${beats.length
      ? html`<h3>Common beats</h3><ul class="beats">${beats.map((beat) => html`<li><button type="button" @click=${() => commands.open(beat.link)}>
          <b dir="auto">${beat.title}</b> <span>${beat.about}</span></button></li>`)}</ul>`
      : nothing}
    <p class="soft">A groove file, a drum MIDI file, a score or tablature can also be dropped anywhere here.</p>
  </section>`;
}

/** @param {State} state @param {import("./commands.js").Commands} commands */
function share(state, commands) {
  const { view, before } = state;
  const shown = before ?? view; // what is only tried is not in the link
  const stage = Math.min(before ? state.beforeChosen : state.chosen, (shown?.stages.length ?? 1) - 1);
  const how = { stage, ...state.staff };
  return html`<gb-share .link=${shown?.link ?? ""} .trouble=${shown?.link_trouble ?? ""} .document=${shown?.document ?? ""} .name=${shown?.title ?? ""}
    .qr=${(/** @type {string} */ text) => commands.probe({ ask: "qr", text })} .stage=${stage ? `stage ${stage}` : "the base beat"} ?several=${(shown?.stages.length ?? 1) > 1}
    .make=${shown ? makerOf(commands, shown, how) : async () => ({})} .sound=${soundOf(state, (stages) => commands.lines(stages))}
    @sheets=${(/** @type {Event} */ e) => show(e, "gb-sheet")}></gb-share>`;
}

/** @param {Event} event @param {"gb-opener" | "gb-share" | "gb-help" | "gb-sheet"} name */
function show(event, name) {
  const root = /** @type {HTMLElement} */ (event.currentTarget).closest("main");
  /** @type {any} */ (root?.querySelector(name))?.show();
}
