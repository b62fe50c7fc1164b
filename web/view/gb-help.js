/**
 * The help: a page beside the beat that says what the picture means, and what hands and keys do.
 *
 * On a wide screen it stands at the side, the page makes room for it, and the beat can be used meanwhile; on a small one it covers the beat until it
 * is closed. "?" opens and closes it, unless something is being written.
 */

import { LitElement, css, html, nothing } from "lit";
import { controls } from "./inks.js";

/** Something that takes what is typed. */
const WRITES = "input:not([type=range], [type=checkbox], [type=radio]), textarea, select, [contenteditable]";

export class GbHelp extends LitElement {
  static properties = { open: { type: Boolean, reflect: true } };

  static styles = [
    controls,
    css`
      dialog {
        position: fixed; inset: 0 0 0 auto; z-index: 30; width: min(27rem, 100vw); max-width: none; height: 100dvh; max-height: none; margin: 0; padding: 0;
        border: 0; border-left: 1px solid var(--rule-strong); overflow: auto; background: var(--paper); color: var(--ink-0); box-shadow: var(--lift);
      }
      dialog::backdrop { background: rgb(10 15 20 / 0.45); }
      .top { position: sticky; top: 0; display: flex; align-items: center; justify-content: space-between; gap: 1rem; padding: 0.6rem 1.25rem; background: var(--paper); border-bottom: 1px solid var(--rule); }
      .inside { padding: 0.25rem 1.25rem 2rem; line-height: 1.45; }
      h2 { margin: 0; font-size: 1.3rem; }
      h3 { margin: 1.4rem 0 0.3rem; font-size: 1.05rem; }
      p { margin: 0.35rem 0; }
      ul { margin: 0.25rem 0; padding-left: 1.1rem; }
      li { margin: 0.25rem 0; }
      dl { display: grid; grid-template-columns: auto 1fr; gap: 0.4rem 0.9rem; margin: 0.4rem 0; }
      dt { min-width: 5.5rem; max-width: 10rem; }
      dd { margin: 0; }
      kbd { display: inline-block; padding: 0 0.4rem; border: 1px solid var(--rule-strong); border-radius: 0.3rem; background: var(--raised); font: inherit; font-size: 0.9rem; }
      svg { width: 100%; height: auto; margin: 0.25rem 0; }
      .line { stroke: var(--rule-strong); fill: none; }
      .base { fill: var(--ink-0); }
      .new { fill: var(--paper); stroke: var(--ink-2); stroke-width: 1.8; }
      .moved { fill: none; stroke: var(--ink-1); stroke-width: 2; }
      text { fill: var(--soft); font: inherit; font-size: 11px; text-anchor: middle; }
    `,
  ];

  constructor() {
    super();
    this.open = false;
  }

  /** @type {Element | null} what had the keyboard before */
  #before = null;

  connectedCallback() {
    super.connectedCallback();
    addEventListener("keydown", this.#key);
  }

  disconnectedCallback() {
    super.disconnectedCallback();
    removeEventListener("keydown", this.#key);
  }

  /** Open the help, or close it. */
  async show() {
    const dialog = this.#dialog;
    if (!dialog) return;
    if (dialog.open) {
      dialog.close();
      return;
    }
    this.#before = deepFocus();
    this.open = true;
    await this.updateComplete;
    if (matchMedia("(max-width: 50rem)").matches) dialog.showModal();
    else dialog.show();
    /** @type {HTMLElement | null} */ (dialog.querySelector("h2"))?.focus();
  }

  render() {
    return html`<dialog aria-labelledby="title" @close=${this.#closed}>
      <div class="top"><h2 id="title" tabindex="-1">Help</h2><button type="button" @click=${() => this.#dialog?.close()}>Close</button></div>
      ${this.open ? html`<div class="inside">${picture}${hands}${words}${listening}${keys}${giving}</div>` : nothing}
    </dialog>`;
  }

  /** @returns {HTMLDialogElement | null} */
  get #dialog() {
    return this.renderRoot.querySelector("dialog");
  }

  #closed() {
    this.open = false;
    if (this.#before instanceof HTMLElement && this.#before.isConnected) this.#before.focus();
    this.#before = null;
  }

  #key = (/** @type {KeyboardEvent} */ event) => {
    if (event.defaultPrevented || event.ctrlKey || event.altKey || event.metaKey) return;
    const target = event.composedPath()[0];
    if (event.key === "Escape" && this.#dialog?.open && event.composedPath().includes(this)) this.#dialog.close();
    else if (event.key === "?" && !(target instanceof Element && target.matches(WRITES))) this.show();
    else return;
    event.preventDefault();
  };
}

const picture = html`<h3>The picture</h3>
  <svg viewBox="0 0 320 92" role="img" aria-label="Four strokes: a ghost, a soft one, a plain one and an accent; and one that was moved">
    <path class="line" d="M8 66.5H312"></path>
    <path class="new" d="M36 57h8v9h-8z"></path><text x="40" y="84">ghost</text>
    <path class="base" d="M95 51h10v15h-10z"></path><text x="100" y="84">soft</text>
    <path class="base" d="M155 42h10v24h-10z"></path><text x="160" y="84">plain</text>
    <path class="base" d="M215 34h10v32h-10z"></path><path class="line" d="M213 22l14 4-14 4"></path><text x="220" y="84">accent</text>
    <path class="moved" d="M250 4c0 22 30 12 30 32"></path><path class="base" d="M275 38h10v28h-10z"></path>
    <path class="moved" d="M273.500 36.500h13v31h-13z"></path><text x="280" y="84">moved</text>
  </svg>
  <ul>
    <li>Time runs to the right. The beat goes round: after the end comes the beginning.</li>
    <li>At the top is the base beat. Below it each stage is the beat after one more variation.</li>
    <li>A stroke is a pillar. The higher it is, the louder. A ghost is hollow.</li>
    <li>The fill tells which stage brought the stroke, the edge which stage changed it last.</li>
    <li>Threads lead from stage to stage. One that leans was moved, two that join were merged, one that ends was left out.</li>
    <li>The tall stage is the chosen one. It is what you hear and what you change.</li>
  </ul>`;

const hands = html`<h3>With the hand</h3>
  <ul>
    <li>Tap a line of the chosen stage: a stroke is added. Tap a stroke: it is taken out.</li>
    <li>Carry a stroke sideways: it moves, and a variation says so. Carry it to another line: it is played there.</li>
    <li>Hold a stroke, or use the other mouse button, for its loudness, grace and hand.</li>
    <li>The letter under a pillar is the right or left hand, F a foot. Tap it to pin another hand, again to pin this one, again
      to let it free; a pinned one is underlined.</li>
    <li>Beads under the lines mark the places that are told under “Before you play it”.</li>
    <li>The name of a line opens its menu: hear it alone, silence it, hide it.</li>
    <li>On the base beat all this changes the base beat itself.</li>
    <li>Tap another stage to choose it.</li>
  </ul>`;

const words = html`<h3>With words</h3>
  <ul>
    <li>The sentence in the chosen stage is the variation. Every underlined word can be changed.</li>
    <li>A change is only tried at first: you see it and hear it. Keep it, or take it back.</li>
    <li>A variation means its strokes by words such as “the backbeats”, so it works on other beats too.</li>
    <li>Each kind of variation under “Next variation” says what a new one would do. Or say what the beat is to be, such as
      airier, and take one of the ideas.</li>
    <li>Where a stage could be better, a button in it offers what would help.</li>
    <li>“Try another way from here” keeps what comes after beside it, under “Other ways”: hear it, take it, name it.</li>
    <li>“Try these variations on another beat” shows first what carries over and what finds nothing there.</li>
    <li>Places may also be said by what sounds there: accents, ghosts, kick, or stage 2 for what that stage brought.</li>
    <li>A count such as 2e means the e of beat 2; 2&amp; is the &amp; of 2; 2:3a is the a of 3 in bar 2.</li>
  </ul>`;

const listening = html`<h3>Listening</h3>
  <ul>
    <li>The slider goes from the base beat to the chosen stage. In the middle both sound.</li>
    <li>The tempo you practise at is yours alone. The link holds the goal.</li>
    <li>Loop only some counts to practise a hard place.</li>
    <li>The click can fall on more or fewer counts, rest every other bar, or grow less each round: the beats, every other
      beat, the 1, nothing, and again from the beats. A count-in sounds once after Play, in the first bar's own parts.</li>
    <li>“My kit” draws and plays the beat on what you have. What was written stays as it is.</li>
    <li>Beside the tempo stands up to which one the stage can be played; press it for the reason.</li>
    <li>“Practice plan” leads from counting aloud to the whole beat, step by step, and prints.</li>
    <li>“Suggestions” looks for what could come next, or for an easier form; hear each before you take it.</li>
    <li>“Who plays” is for left-handed, open-handed and double-pedal players, and measures your own hands and feet.</li>
    <li>Start slowly and stay relaxed. Protect your hearing, take breaks, stop if it hurts.</li>
  </ul>`;

const keys = html`<h3>Keys</h3>
  <dl>
    <dt><kbd>Space</kbd></dt><dd>play and stop</dd>
    <dt><kbd>Shift</kbd> <kbd>Space</kbd></dt><dd>while two stages take turns: change over at the loop point</dd>
    <dt><kbd>←</kbd> <kbd>→</kbd> <kbd>↑</kbd> <kbd>↓</kbd></dt><dd>walk over the places of the chosen stage</dd>
    <dt><kbd>Shift</kbd> and an arrow</dt><dd>carry the stroke; let go of Shift to set it down, or put it back with Esc</dd>
    <dt><kbd>Enter</kbd></dt><dd>on a place: add a stroke or take it out; at a word: keep what is tried</dd>
    <dt><kbd>1</kbd> to <kbd>4</kbd></dt><dd>ghost, soft, plain, accent</dd>
    <dt><kbd>5</kbd></dt><dd>pin the other hand, this one, none</dd>
    <dt><kbd>Delete</kbd></dt><dd>take the stroke out</dd>
    <dt><kbd>Page up</kbd> <kbd>Page down</kbd></dt><dd>another stage</dd>
    <dt><kbd>Esc</kbd></dt><dd>take back what is tried</dd>
    <dt><kbd>Ctrl</kbd> <kbd>Z</kbd></dt><dd>undo; with Shift do it again</dd>
    <dt><kbd>Tab</kbd></dt><dd>on to the next control</dd>
    <dt><kbd>?</kbd></dt><dd>this help</dd>
  </dl>`;

const giving = html`<h3>Keeping and sharing</h3>
  <ul>
    <li>The address of the page is the beat. It follows every change you keep. A bookmark saves it.</li>
    <li>“Share” gives the link, a QR code and the groove file, which is plain text.</li>
    <li>It also saves files for other programs: MIDI, MusicXML, tablature, the staff as a picture, sound.</li>
    <li>“Staff”, in the chosen stage, shows it as notes. What sounds lights up in them.</li>
    <li>“Share” also makes sheets for a class, to print.</li>
    <li>Nothing leaves your machine unless you send it.</li>
  </ul>`;

/** @returns {Element | null} what has the keyboard, inside elements too */
function deepFocus() {
  let one = document.activeElement;
  while (one?.shadowRoot?.activeElement) one = one.shadowRoot.activeElement;
  return one;
}

customElements.define("gb-help", GbHelp);
