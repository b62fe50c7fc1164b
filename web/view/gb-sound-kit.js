/**
 * Which kit sounds: the same drums in another room, tuned and damped otherwise.
 *
 * Event: "sound" with detail {name}.
 */

import { LitElement, css, html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { controls } from "./inks.js";

export class GbSoundKit extends LitElement {
  static properties = {
    sounds: { attribute: false },
    chosen: { type: String },
  };

  static styles = [
    controls,
    css`
      :host { display: inline-block; max-width: 100%; font-size: 0.95rem; }
      label { display: inline-flex; flex-wrap: wrap; align-items: center; gap: 0 0.5rem; min-height: 2.75rem; }
      select { font: inherit; color: inherit; min-height: 2.75rem; max-width: 100%; padding: 0.25rem 0.4rem; border: 1px solid var(--rule-strong); border-radius: 0.4rem; background: var(--raised); }
    `,
  ];

  constructor() {
    super();
    /** @type {{ name: string, label: string, about: string }[]} the usual one first */ this.sounds = [];
    /** the name of the one that sounds, "" for the usual one */ this.chosen = "";
  }

  render() {
    const { sounds } = this;
    if (sounds.length < 2) return nothing;
    const chosen = sounds.find(({ name }) => name === this.chosen) ?? sounds[0];
    return html`<label>sounds like <select title=${chosen.about} @change=${this.#choose}>
      ${sounds.map((sound) => html`<option value=${sound.name} title=${sound.about} .selected=${live(sound === chosen)}>${sound.label}</option>`)}
    </select></label>`;
  }

  /** @param {Event} event */
  #choose(event) {
    const name = /** @type {HTMLSelectElement} */ (event.currentTarget).value;
    this.dispatchEvent(new CustomEvent("sound", { detail: { name } }));
  }
}

customElements.define("gb-sound-kit", GbSoundKit);
