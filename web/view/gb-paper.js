/**
 * A sheet for a class as it stands on paper: what to do, the beats, and on a page of their own the answers.
 *
 * Always black on white, so that the preview is what the printer gives. `room` is the width in pixels that the drawings
 * have; two beats stand side by side where both fit. It shows either the student's part, the answers, or both.
 */

import { LitElement, html, nothing, svg } from "lit";
import { drawItem, namesOf } from "../draw/sheet.js";
import { paperLook } from "./paper-look.js";

/** @typedef {import("../protocol/messages.js").SheetReply} Sheet @typedef {import("../protocol/messages.js").SheetItem} Item */
/** @typedef {import("../draw/sheet.js").Row} Row */

/** Half a row is enough for a bar from this width on. Our choice: a bar of sixteenths with its counts. */
const HALF = 290;
/** Between two beats side by side. */
const GAP = 28;
/** Higher drawings may go on on the next page, between two of their rows: a third of a page. */
const LONG = 330;
/** Most columns that half a row holds. */
const FEW = 16;

export class GbPaper extends LitElement {
  static properties = {
    sheet: { attribute: false },
    room: { type: Number },
    address: { type: String },
    order: { type: Number },
    shows: { type: String },
  };

  static styles = [paperLook];

  constructor() {
    super();
    /** @type {Sheet | null} */ this.sheet = null;
    this.room = 680;
    this.address = "";
    /** the number that the order follows from */ this.order = 1;
    /** @type {"both" | "students" | "answers"} */ this.shows = "both";
  }

  render() {
    const { sheet, shows } = this;
    if (!sheet) return nothing;
    return html`${shows === "answers" ? nothing : this.#students(sheet)}
      ${shows !== "students" && sheet.sheet !== "turns" ? this.#answers(sheet) : nothing}`;
  }

  /** @param {Sheet} sheet */
  #students(sheet) {
    const counted = sheet.sheet !== "count";
    return html`<section class="page">
      ${this.#head(sheet, sheet.heading)}
      <p class="name"><span>Name</span><i></i><span>Date</span><i class="short"></i></p>
      <p class="task">${sheet.task}</p>
      ${sheet.plays.length ? html`<ol class="heard" aria-label="Answers">${sheet.plays.map((_, at) => html`<li>
        <span>${at + 1}</span> heard: <i></i></li>`)}</ol>` : nothing}
      ${this.#items(sheet, counted, false)}
      ${this.#foot()}
    </section>`;
  }

  /** @param {Sheet} sheet */
  #answers(sheet) {
    return html`<section class="page answers">
      ${this.#head(sheet, sheet.heading.endsWith("?") ? `${sheet.heading} The answers` : `${sheet.heading}: the answers`)}
      ${sheet.sheet === "hear"
        ? html`<p class="task">For the teacher. Play them in this order; it is order number ${this.order}, and the same number gives the same order again.</p>
          <table><thead><tr><th scope="col">Play</th><th scope="col">Letter</th><th scope="col">What it is</th></tr></thead>
          <tbody>${sheet.plays.map((play, at) => html`<tr><td>${at + 1}</td><td><b>${play.label}</b></td><td dir="auto">${play.told}</td></tr>`)}</tbody></table>`
        : html`<p class="task">For the teacher.</p>${this.#items(sheet, true, true)}`}
      ${this.#foot()}
    </section>`;
  }

  /** @param {Sheet} sheet @param {string} heading */
  #head(sheet, heading) {
    return html`<div class="head"><h3>${heading}</h3>
      <p class="facts"><b dir="auto">${sheet.title || "A beat without a title"}</b> · ${sheet.facts.join(" · ")}</p></div>`;
  }

  #foot() {
    return html`<div class="foot"><p>Protect your hearing, take breaks, stop if it hurts. Your teacher or a qualified clinician knows better
      than this sheet.</p>${this.address ? html`<p class="link" dir="ltr">${this.address}</p>` : nothing}</div>`;
  }

  /** @param {Sheet} sheet @param {boolean} counted @param {boolean} answered */
  #items({ sheet, items }, counted, answered) {
    const half = Math.floor((this.room - GAP) / 2);
    const paired = sheet !== "count" && half >= HALF && items.every(({ frame }) => frame.grid.length <= FEW);
    const rows = [];
    for (let at = 0; at < items.length; at += paired ? 2 : 1) rows.push(items.slice(at, at + (paired ? 2 : 1)));
    const names = namesOf(items);
    return rows.map((row) => {
      const drawn = row.map((item) => drawItem(item, paired ? half : this.room, names, counted));
      const tallest = Math.max(...drawn.map((lines) => lines.reduce((sum, { height }) => sum + height, 0)));
      return html`<div class=${`row${paired ? " pair" : ""}${tallest > LONG ? " long" : ""}`}>
        ${row.map((item, at) => this.#item(item, drawn[at], [paired ? half : this.room, names], answered))}</div>`;
    });
  }

  /** @param {Item} item @param {Row[]} drawn @param {[number, number]} room in all, and for the names @param {boolean} answered */
  #item(item, drawn, [room, names], answered) {
    return html`<article class=${item.strokes.some(({ figure }) => figure) ? "turned" : ""}>
      ${item.label ? html`<h4><span class="label">${item.label}</span>${item.begins ? html` ${item.begins}` : nothing}</h4>` : nothing}
      ${item.sentence ? html`<p class="sentence" dir="auto">${item.sentence}</p>` : nothing}
      <div role="img" aria-label=${(answered ? item.blanks.map(({ words }) => words).join(", ") : item.spoken) || "nothing sounds"}>
        ${drawn.map((row) => html`<svg viewBox="0 0 ${room} ${row.height}" aria-hidden="true">
          ${row.feet.map(([, y], i) => svg`<text class="lane" x=${names - 4} y=${y}>${item.labels[i]}</text>`)}
          <g transform="translate(${names} 0)">${drawRow(row, answered)}</g></svg>`)}
      </div>
    </article>`;
  }
}

/** @param {Row} row @param {boolean} answered */
export function drawRow(row, answered) {
  return svg`
    ${row.feet.map(([, y]) => svg`<path class="line" d="M${row.left} ${y + 0.5}H${row.right}"></path>`)}
    ${row.bars.map(({ x }) => svg`<path class="bar" d="M${x} ${row.top}V${row.bottom + 0.5}"></path>`)}
    <path class="beats" d=${row.marks.beats || "M0 0"}></path>
    <path class="between" d=${row.marks.between || "M0 0"}></path>
    ${row.bars.map(({ x, number }) => (number ? svg`<text class="number" x=${x + 3} y=${row.height - 3}>bar ${number}</text>` : nothing))}
    ${row.counts.map(({ x, text, strong }) => svg`<text class=${strong ? "count strong" : "count"} x=${x} y=${row.countY}>${text}</text>`)}
    ${row.strokes.map((one) => svg`<g class=${`${one.figure ? "stroke figure" : "stroke"}${one.hollow ? " hollow" : ""}`}>
      <path class="pillar" d=${one.d}></path>
      ${one.figure ? svg`<path class="edge" d=${one.edge}></path>` : nothing}
      ${one.accent ? svg`<path class="mark" d=${one.accent}></path>` : nothing}
      ${one.grace ? svg`<path class="mark" d=${one.grace}></path>` : nothing}</g>`)}
    ${row.blanks.map(({ x, y, width, answer }) => svg`<path class="blank" d="M${x - width / 2} ${y}h${width}"></path>
      ${answered ? svg`<text class="answer" x=${x} y=${y - 5}>${answer}</text>` : nothing}`)}`;
}

customElements.define("gb-paper", GbPaper);
