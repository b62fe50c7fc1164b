/**
 * What can be saved of the beat, one list: each file with what it is for. The groove file, MIDI, a score, tablature,
 * the staff as a picture, and the sound.
 *
 * `make` asks the engine for a file; `sound` says what sound there is to save and makes it; `file` is the address of the
 * groove file. All but the groove file hold the chosen stage, or all stages one after the other.
 *
 * Events: "said" with detail {text}: what became of it, for the dialog around to show.
 */

import { LitElement, css, html, nothing } from "lit";
import { controls } from "./inks.js";

/** Rounds of a sound where nobody has said how many. Our choice. */
const ROUNDS = 8;
/** Milliseconds for which a saved file is kept for the browser to fetch. */
const FETCHED = 60_000;

/** @typedef {{ most: number, about: (rounds: number) => string, save: (rounds: number) => Promise<{ wav: Blob | null, ending: string, says: string }>, through: SoundFile | null }} SoundFile
 *   through: the stages one after the other, where there are several */
/** @typedef {"midi" | "score" | "packed" | "tab" | "staff" | "picture"} Kind */
/** @typedef {{ blob?: Blob, ending?: string, says?: string[], trouble?: string }} Made ending: of its name */
/** @typedef {(kind: Kind, how: { whole: boolean, pads: boolean }) => Promise<Made>} Make */

export class GbFiles extends LitElement {
  static properties = {
    file: { type: String },
    name: { type: String },
    stage: { type: String },
    several: { type: Boolean },
    make: { attribute: false, hasChanged: () => false },
    sound: { attribute: false },
    rounds: { state: true },
    whole: { state: true },
    pads: { state: true },
    making: { state: true },
  };

  static styles = [
    controls,
    css`
      :host { display: block; margin-top: 1.25rem; padding-top: 1rem; border-top: 1px solid var(--rule); }
      h3 { margin: 0 0 0.3rem; font-size: 1rem; }
      p { margin: 0.3rem 0; color: var(--soft); line-height: 1.4; overflow-wrap: anywhere; }
      ul { list-style: none; margin: 0.5rem 0 0; padding: 0; }
      li { display: grid; grid-template-columns: 9.5rem minmax(0, 1fr); gap: 0.2rem 1rem; align-items: center; padding: 0.35rem 0; }
      li > button, a.button { width: 100%; padding-inline: 0.5rem; }
      a.button { display: inline-flex; align-items: center; justify-content: center; min-height: 2.75rem; border: 1px solid var(--rule); border-radius: 1.4rem; background: var(--raised); color: inherit; text-decoration: none; text-align: center; }
      a.button:hover { border-color: currentColor; }
      .about { color: var(--soft); line-height: 1.35; }
      label { display: inline-flex; align-items: center; gap: 0.5rem; color: var(--ink-0); }
      select { font: inherit; color: inherit; min-height: 2.75rem; max-width: 100%; padding: 0.25rem 0.5rem; border: 1px solid var(--rule-strong); border-radius: 0.4rem; background: var(--raised); }
      input[type="number"] { width: 5.5rem; }
      @media (max-width: 30rem) { li { grid-template-columns: minmax(0, 1fr); } }
    `,
  ];

  constructor() {
    super();
    this.file = "";
    this.name = "";
    /** the chosen stage, in words */ this.stage = "";
    /** whether there are several stages */ this.several = false;
    /** @type {Make} */ this.make = async () => ({});
    /** @type {SoundFile | null} */ this.sound = null;
    this.rounds = ROUNDS;
    /** whether all stages are wished for, one after the other */ this.whole = false;
    /** whether a MIDI file is for an electronic kit */ this.pads = false;
    this.making = false;
  }

  render() {
    const { whole } = this;
    return html`<section aria-labelledby="files">
      <h3 id="files">Files, also for other programs</h3>
      <p>All but the groove file hold ${this.several && whole ? "all stages, one after the other" : html`<bdi>${this.stage}</bdi>`}.</p>
      ${this.several ? html`<label class="tick"><input type="checkbox" .checked=${whole} @change=${(/** @type {Event} */ e) => {
        this.whole = /** @type {HTMLInputElement} */ (e.currentTarget).checked;
      }} /> all stages, one after the other</label>` : nothing}
      <ul>
        <li><a class="button" href=${this.file || nothing} download=${`${fileName(this.name)}.toml`} aria-label="Save the groove file">Groove file</a>
          <span class="about">Everything, with all stages and other ways, to open here again.</span></li>
        ${this.#row("midi", "MIDI", html`When and how hard each stroke is, for programs that record or play.
          <label>Keys of <select @change=${this.#turnPads}><option value="">General MIDI</option><option value="pads" ?selected=${this.pads}>an electronic kit</option></select></label>`)}
        ${this.#row("score", "MusicXML", "The notes as they are written, for programs that print or edit scores.")}
        ${this.#row("packed", "MusicXML, packed", "The same in a smaller file (.mxl).")}
        ${this.#row("tab", "Tablature", "Letters on lines, for a message or a mail; it opens here again.")}
        ${whole && this.several ? nothing : html`${this.#row("staff", "Staff as SVG", "The staff as a picture that stays sharp, for a page or a slide.")}
          ${this.#row("picture", "Staff as PNG", "The same in dots, black on white, for a chat.")}`}
        ${this.#wished ? this.#sound(this.#wished) : nothing}
      </ul>
    </section>`;
  }

  /** @param {Kind} kind @param {string} title @param {unknown} about */
  #row(kind, title, about) {
    return html`<li><button type="button" data-kind=${kind} aria-label=${`Save ${title}`} ?disabled=${this.making} @click=${() => this.#save(kind)}>${title}</button>
      <span class="about">${about}</span></li>`;
  }

  /** What is to be saved. @returns {SoundFile | null} */
  get #wished() {
    return (this.whole && this.sound?.through) || this.sound;
  }

  /** @param {SoundFile} sound */
  #sound(sound) {
    const rounds = Math.min(this.rounds, sound.most);
    return html`<li class="sound"><button type="button" aria-label="Save the sound" ?disabled=${this.making || sound.most === 0} @click=${this.#saveSound}>Sound</button>
      <span class="about">${sound.about(rounds)}
        <label>Rounds<input type="number" min="1" max=${sound.most} step="1" .value=${String(rounds)} ?disabled=${sound.most === 0}
          @change=${this.#turnRounds} /></label></span></li>`;
  }

  /** @param {Event} event */
  #turnPads(event) {
    this.pads = /** @type {HTMLSelectElement} */ (event.currentTarget).value !== "";
  }

  /** @param {Event} event */
  #turnRounds(event) {
    const wished = Math.round(Number(/** @type {HTMLInputElement} */ (event.currentTarget).value));
    this.rounds = Math.min(Math.max(1, wished || ROUNDS), this.#wished?.most || 1);
    this.requestUpdate();
  }

  /** @param {Kind} kind */
  async #save(kind) {
    await this.#work("Making the file …", async () => {
      const { blob, ending = "", says = [], trouble } = await this.make(kind, { whole: this.whole && this.several, pads: this.pads });
      if (!blob) return trouble || "The engine does not answer. Try again in a moment.";
      save(blob, `${fileName(this.name)}-${ending}`);
      return ["Saved.", ...says].join(" ");
    });
  }

  async #saveSound() {
    const sound = this.#wished;
    if (!sound) return;
    await this.#work("Making the sound …", async () => {
      const { wav, ending, says } = await sound.save(Math.min(this.rounds, sound.most));
      if (wav) save(wav, `${fileName(this.name)}-${ending}`);
      return says;
    });
  }

  /** Make one file at a time, and say what became of it. @param {string} meanwhile @param {() => Promise<string>} deed */
  async #work(meanwhile, deed) {
    if (this.making) return;
    this.making = true;
    this.#say(meanwhile);
    try {
      this.#say(await deed());
    } catch (error) {
      this.#say("That did not work here. Reload the page and try again.");
      throw error;
    } finally {
      this.making = false;
    }
  }

  /** @param {string} text */
  #say(text) {
    this.dispatchEvent(new CustomEvent("said", { detail: { text } }));
  }
}

/** Let the browser save a file. @param {Blob} blob @param {string} name */
function save(blob, name) {
  const address = URL.createObjectURL(blob);
  Object.assign(document.createElement("a"), { href: address, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(address), FETCHED);
}

/** Make a file's name of a title: letters and digits of any script, with hyphens. @param {string} title @returns {string} */
function fileName(title) {
  return title.normalize("NFC").replace(/[^\p{L}\p{M}\p{N}]+/gu, "-").replace(/^-+|-+$/g, "").toLowerCase().slice(0, 60) || "beat";
}

customElements.define("gb-files", GbFiles);
