/**
 * A beat on paper without anything beside it, black on white, with its counts.
 */

import { LitElement, html, nothing, svg } from "lit";
import { drawItem, namesOf } from "../draw/sheet.js";
import { drawRow } from "./gb-paper.js";
import { paperLook } from "./paper-look.js";

export class GbStrip extends LitElement {
  static properties = { item: { attribute: false }, room: { type: Number } };

  static styles = [paperLook];

  constructor() {
    super();
    /** @type {import("../protocol/messages.js").SheetItem | null} */ this.item = null;
    /** width in pixels */ this.room = 680;
  }

  render() {
    const { item, room } = this;
    if (!item) return nothing;
    const names = namesOf([item]);
    return html`<div role="img" aria-label=${item.spoken || "nothing sounds"}>${drawItem(item, room, names, true).map((row) => html`<svg
      viewBox="0 0 ${room} ${row.height}" aria-hidden="true">${row.feet.map(([, y], i) => svg`<text class="lane" x=${names - 4} y=${y}>${item.labels[i]}</text>`)}
      <g transform="translate(${names} 0)">${drawRow(row, false)}</g></svg>`)}</div>`;
  }
}

customElements.define("gb-strip", GbStrip);
