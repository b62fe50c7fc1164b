/**
 * The styles that several elements share: stage colours as classes, and the plain controls.
 *
 * f0 ... f12 fill with a stage's ink, e0 ... e12 draw a line in it, t0 ... t12 write in it; the inks come from style.css.
 */

import { css, unsafeCSS } from "lit";
import { INKS } from "../draw/colours.js";

const all = Array.from({ length: INKS + 1 }, (_, ink) => ink);

/** Classes for every ink. */
export const inks = unsafeCSS(
  all
    .map((i) => `.f${i}{fill:var(--ink-${i})}.e${i}{stroke:var(--ink-${i})}.t${i}{color:var(--ink-${i})}.b${i}{background:var(--ink-${i})}`)
    .join(""),
);

/** Buttons, fields and what only a screen reader reads. */
export const controls = css`
  *, *::before, *::after { box-sizing: border-box; }
  button, input, textarea { font: inherit; color: inherit; }
  button {
    min-height: 2.75rem; min-width: 2.75rem; padding: 0.25rem 1rem; cursor: pointer;
    border: 1px solid var(--rule); border-radius: 1.4rem; background: var(--raised);
  }
  button:hover { border-color: currentColor; }
  button:disabled { cursor: default; opacity: 0.55; }
  button.main { background: var(--ink-0); border-color: var(--ink-0); color: var(--paper); font-weight: 650; }
  input[type="number"], input[type="text"], textarea {
    min-height: 2.75rem; padding: 0.25rem 0.5rem; border: 1px solid var(--rule-strong); border-radius: 0.4rem;
    background: var(--raised);
  }
  input[type="number"] { appearance: textfield; }
  input[type="number"]::-webkit-inner-spin-button, input[type="number"]::-webkit-outer-spin-button { appearance: none; margin: 0; }
  input[type="range"] { accent-color: var(--ink-0); min-height: 2.75rem; margin: 0; }
  input[type="checkbox"] { accent-color: var(--ink-0); width: 1.25rem; height: 1.25rem; margin: 0; flex: none; }
  label.tick { display: inline-flex; align-items: center; gap: 0.5rem; min-height: 2.75rem; cursor: pointer; }
  :focus-visible { outline: 3px solid var(--focus); outline-offset: 2px; }
  .unseen {
    position: absolute; width: 1px; height: 1px; margin: -1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap;
  }
  @media (forced-colors: active) {
    button.main { border-width: 2px; }
  }
`;
