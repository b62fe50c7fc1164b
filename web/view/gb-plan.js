/**
 * A practice plan: what to mind before it, its steps in order, each to be heard as it is to be practised, and on paper.
 *
 * `ask` puts the question to the engine, `draw(stage)` asks it for the beat as a sheet has it, `play(step, tempo)` sounds a step round and round (null: silence), `pace(bpm)`
 * goes on at another of its tempos. `known(stage)` and `keep(stage, bpm)` read and write the last clean tempo, which the
 * browser keeps. What is printed stands outside the dialog and is seen by printers only, as in gb-sheet. `show()` opens
 * the dialog.
 *
 * Events: "click-on" with detail {on}: whether the click sounds with it.
 */

import { LitElement, html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { controls } from "./inks.js";
import "./gb-strip.js";
import { planLook } from "./plan-look.js";
import { unlessTyping } from "./unless-typing.js";

/** @typedef {import("../protocol/messages.js").PlanReply} Plan @typedef {import("../protocol/messages.js").PlanStepInfo} Step */
/** @typedef {import("../protocol/messages.js").SheetItem} Beat */

/** Tempos that a groove can have. */
const SLOWEST = 20;
const FASTEST = 300;
/** Most boxes to tick at a tempo on paper. Our choice. */
const BOXES = 4;

export class GbPlan extends LitElement {
  static properties = {
    stages: { attribute: false },
    chosen: { type: Number },
    titled: { type: Boolean },
    address: { type: String },
    sounding: { type: Boolean },
    clicks: { type: Boolean },
    ask: { attribute: false, hasChanged: () => false },
    draw: { attribute: false, hasChanged: () => false },
    play: { attribute: false, hasChanged: () => false },
    pace: { attribute: false, hasChanged: () => false },
    known: { attribute: false, hasChanged: () => false },
    keep: { attribute: false, hasChanged: () => false },
    open: { type: Boolean, reflect: true },
    stage: { state: true },
    every: { state: true },
    clean: { state: true },
    plan: { state: true },
    beat: { state: true },
    busy: { state: true },
    trouble: { state: true },
    now: { state: true },
    rung: { state: true },
  };

  static styles = [controls, planLook];

  #asked = 0;
  #wished = 0;

  constructor() {
    super();
    /** @type {import("../draw/shapes.js").Stage[]} */ this.stages = [];
    this.chosen = 0;
    /** whether the beat has a title, by which its tempos are remembered */ this.titled = false;
    /** of the page with the beat, "" where it has no link */ this.address = "";
    this.sounding = false;
    this.clicks = false;
    /** @type {(question: { [field: string]: unknown }) => Promise<any>} */ this.ask = async () => ({});
    /** @type {(stage: number) => Promise<any>} */ this.draw = async () => ({});
    /** @type {(step: Step | null, tempo: number) => Promise<boolean>} */ this.play = async () => false;
    /** @type {(bpm: number) => void} */ this.pace = () => {};
    /** @type {(stage: number) => number} */ this.known = () => 0;
    /** @type {(stage: number, bpm: number) => void} */ this.keep = () => {};
    this.open = false;
    this.stage = 0;
    /** whether the stages before are practised too */ this.every = false;
    /** the last clean tempo, 0 where none is known */ this.clean = 0;
    /** @type {Plan | null} */ this.plan = null;
    /** @type {Beat | null} the stage as it is drawn on paper */ this.beat = null;
    this.busy = false;
    this.trouble = "";
    /** which step sounds, -1 for none */ this.now = -1;
    /** at which of its tempos */ this.rung = 0;
  }

  /** Open the dialog, at the chosen stage. */
  show() {
    this.stage = this.chosen;
    this.every = false;
    this.plan = null;
    this.open = true;
    this.#dialog?.showModal();
    this.#turn();
  }

  /** @param {Map<PropertyKey, unknown>} changed */
  willUpdate(changed) {
    if (changed.has("sounding") && !this.sounding) this.now = -1;
  }

  render() {
    const { open, plan } = this;
    return html`<dialog aria-labelledby="title" @click=${this.#outside} @close=${this.#closed}>
        <div class="inside">
          <div class="top"><h2 id="title">Practice plan</h2><button type="button" @click=${this.#close}>Close</button></div>
          ${open ? html`${this.#choice()}
            <p class="trouble" role="alert">${this.trouble}</p>
            <div aria-busy=${this.busy ? "true" : "false"}>${plan ? this.#told(plan) : this.busy ? html`<p class="soft" role="status">Making the plan.</p>` : nothing}</div>` : nothing}
        </div>
      </dialog>
      ${open && plan ? html`<div class="printed">${paper(plan, this.beat, this.address)}</div>` : nothing}`;
  }

  #choice() {
    return html`<div class="settings">
        <label>For <select name="stage" @change=${(/** @type {Event} */ e) => this.#change({ stage: Number(valueOf(e)) })}>
          ${this.stages.map(({ stage, heading, name }) => html`<option value=${stage} ?selected=${stage === this.stage}>${stage}. ${name || heading}</option>`)}</select></label>
        ${this.stage
          ? html`<label class="tick"><input type="checkbox" .checked=${live(this.every)}
              @change=${(/** @type {Event} */ e) => this.#change({ every: /** @type {HTMLInputElement} */ (e.currentTarget).checked })} /> with all stages before it</label>`
          : nothing}
        <label>Last clean tempo <input type="number" name="clean" min=${SLOWEST} max=${FASTEST} step="any" inputmode="decimal" autocomplete="off"
          aria-describedby="kept" .value=${unlessTyping(this.clean ? String(this.clean) : "")} @change=${this.#clean} /> bpm</label>
      </div>
      <p class="soft" id="kept">Leave it empty if you do not know it. ${this.titled
        ? "Only this browser remembers it, for this stage of a beat with this title."
        : "This beat has no title, so it is not remembered."}</p>`;
  }

  /** @param {Plan} plan */
  #told(plan) {
    return html`<aside class="care" aria-label="Before you begin"><h3>Before you begin</h3>
        <ul>${plan.cautions.map((text) => html`<li>${text}</li>`)}</ul></aside>
      <p class="sum" role="status">${sum(plan)}</p>
      <div class="deeds"><button type="button" class="main" @click=${() => print()}>Print</button>
        <label class="tick"><input type="checkbox" .checked=${live(this.clicks)}
          @change=${(/** @type {Event} */ e) => this.#tell(/** @type {HTMLInputElement} */ (e.currentTarget).checked)} /> with the click</label></div>
      ${plan.steps.length ? html`<ol>${plan.steps.map((step, i) => this.#step(step, i))}</ol>` : html`<p>There is nothing to practise in an empty stage.</p>`}`;
  }

  /** @param {Step} step @param {number} i */
  #step(step, i) {
    const on = i === this.now;
    const tempo = step.tempos[on ? this.rung : 0];
    return html`<li class=${on ? "step now" : "step"}>
      <div class="head"><h3>${step.title}</h3><span class="soft">${minutes(step.minutes)}</span></div>
      <p>${step.do}</p>
      <p class="listen"><b>Listen:</b> ${step.listen}</p>
      <div class="foot">
        <p class="tempos">${passes(step)} at ${step.tempos.map((bpm, rung) => html`${rung ? ", " : ""}<span class=${on && rung === this.rung ? "at" : ""}>${bpm}</span>`)}</p>
        <div class="deeds" role="group" aria-label=${step.title}>
          ${on
            ? html`${step.tempos.length > 1
                ? html`<button type="button" ?disabled=${!this.rung} aria-label=${`Slower: ${step.title}`} @click=${() => this.#pace(step, this.rung - 1)}>Slower</button>
                  <button type="button" ?disabled=${this.rung === step.tempos.length - 1} aria-label=${`Faster: ${step.title}`} @click=${() => this.#pace(step, this.rung + 1)}>Faster</button>`
                : nothing}
              <button type="button" class="main" aria-label=${`Stop: ${step.title}`} @click=${() => this.play(null, 0)}>Stop</button>`
            : html`<button type="button" aria-label=${`Hear it at ${tempo}: ${step.title}`} @click=${() => this.#hear(step, i)}>Hear it at ${tempo}</button>`}
        </div>
      </div>
      <span class="unseen" role="status">${on ? `Sounds at ${tempo}.` : ""}</span>
    </li>`;
  }

  /** @param {Step} step @param {number} i */
  async #hear(step, i) {
    const wished = (this.#wished += 1);
    if (!(await this.play(step, step.tempos[0])) || wished !== this.#wished) return;
    this.rung = 0;
    this.now = i;
    await this.updateComplete;
    /** @type {HTMLElement | null} */ (this.renderRoot.querySelector(".now .main"))?.focus();
  }

  /** @param {Step} step @param {number} rung */
  #pace(step, rung) {
    this.rung = rung;
    this.pace(step.tempos[rung]);
  }

  /** @param {Partial<Pick<GbPlan, "stage" | "every">>} change */
  #change(change) {
    Object.assign(this, change);
    if (!this.stage) this.every = false;
    this.#turn();
  }

  /** Plan for what is set now. */
  #turn() {
    this.clean = this.known(this.stage);
    this.#hush();
    this.#fetch();
  }

  /** @param {Event} event */
  #clean(event) {
    const bpm = Math.round(Number(valueOf(event)) * 100) / 100;
    this.clean = bpm > 0 ? Math.min(FASTEST, Math.max(SLOWEST, bpm)) : 0;
    /** @type {HTMLInputElement} */ (event.currentTarget).value = this.clean ? String(this.clean) : "";
    this.keep(this.stage, this.clean);
    this.requestUpdate();
    this.#hush();
    this.#fetch();
  }

  async #fetch() {
    const asked = (this.#asked += 1);
    const { stage, every, clean } = this;
    this.busy = true;
    const reply = await this.ask({ stage, every, clean });
    if (asked !== this.#asked || !this.open) return; // something else was chosen meanwhile
    this.busy = false;
    this.plan = reply.steps ? reply : null;
    this.trouble = reply.steps ? "" : asSentence(reply.trouble || "The engine has no answer to that.");
    this.beat = null;
    const drawn = await this.draw(stage);
    if (asked === this.#asked && drawn.items?.length) this.beat = { ...drawn.items[0], label: "", blanks: [] };
  }

  #hush() {
    this.#wished += 1;
    if (this.now >= 0) this.play(null, 0);
    this.now = -1;
  }

  /** @param {boolean} on */
  #tell(on) {
    this.dispatchEvent(new CustomEvent("click-on", { detail: { on } }));
  }

  /** @returns {HTMLDialogElement | null} */
  get #dialog() {
    return this.renderRoot.querySelector("dialog");
  }

  #close() {
    this.#dialog?.close();
  }

  #closed() {
    this.open = false;
    this.#asked += 1;
    this.#hush();
  }

  /** @param {MouseEvent} event */
  #outside(event) {
    if (event.target === this.#dialog) this.#close();
  }
}

/** A plan on paper, with a box to tick for every pass. @param {Plan} plan @param {Beat | null} beat @param {string} address */
function paper(plan, beat, address) {
  return html`<h1>Practice plan</h1>
    <p class="facts"><b dir="auto">${plan.title}</b></p>
    ${beat ? html`<gb-strip .item=${beat}></gb-strip>` : nothing}
    <ul class="care">${plan.cautions.map((text) => html`<li>${text}</li>`)}</ul>
    <p>${sum(plan)} Tick a box for every clean pass.</p>
    <ol>${plan.steps.map((step) => html`<li class="step">
      <h2>${step.title} <span>${minutes(step.minutes)}</span></h2>
      <p>${step.do}</p><p><b>Listen:</b> ${step.listen}</p>
      <p class="rungs">${step.tempos.map((bpm) => html`<span class="rung"><b>${bpm}</b>${Array.from({ length: Math.min(BOXES, step.passes) }, () => html`<i></i>`)}</span>`)}</p>
    </li>`)}</ol>
    ${address ? html`<p class="link" dir="ltr">${address}</p>` : nothing}`;
}

/** @param {Plan} plan @returns {string} */
function sum({ start, goal, minutes: time }) {
  const way = start < goal ? `From ${start} to ${goal}.` : `At ${goal}.`;
  return `${way} ${minutes(time)}${time > 25 ? " with the breaks" : ""}.`;
}

/** @param {number} time @returns {string} */
function minutes(time) {
  return `About ${time} ${time === 1 ? "minute" : "minutes"}`;
}

/** @param {Step} step @returns {string} */
function passes({ passes: number, tempos }) {
  const each = number === 1 ? "1 pass" : `${number} passes`;
  return tempos.length > 1 ? `${each} each` : each;
}

/** @param {Event} event @returns {string} */
function valueOf(event) {
  return /** @type {HTMLInputElement | HTMLSelectElement} */ (event.currentTarget).value;
}

/** The engine's texts also stand after a name; alone they begin with a capital and end with a stop. @param {string} text @returns {string} */
function asSentence(text) {
  const begun = text[0].toUpperCase() + text.slice(1);
  return /[.!?…]$/.test(begun) ? begun : `${begun}.`;
}

customElements.define("gb-plan", GbPlan);
