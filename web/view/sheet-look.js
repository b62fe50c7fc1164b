/**
 * How the choice of a sheet looks, and what of it a printer sees: the sheet alone.
 */

import { css } from "lit";

export const sheetLook = css`
  :host { display: block; }
  dialog {
    width: min(52rem, calc(100vw - 1.5rem)); max-height: calc(100dvh - 1.5rem); padding: 0; overflow: auto;
    border: 0; border-radius: 1rem; background: var(--paper); color: var(--ink-0); box-shadow: var(--lift);
  }
  dialog::backdrop { background: rgb(10 15 20 / 0.45); }
  .inside { padding: 1rem 1.25rem 1.5rem; }
  .top { display: flex; align-items: center; justify-content: space-between; gap: 1rem; }
  h2 { margin: 0; font-size: 1.3rem; }
  h3 { margin: 0; font-size: 1rem; }
  fieldset { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(14rem, 100%), 1fr)); gap: 0 1rem; margin: 0.5rem 0 0; padding: 0; border: 0; min-width: 0; }
  legend { padding: 0; }
  fieldset span { line-height: 1.3; color: var(--soft); padding: 0.35rem 0; }
  fieldset b { display: block; color: var(--ink-0); font-weight: 650; }
  label { min-width: 0; }
  input[type="radio"] { accent-color: var(--ink-0); width: 1.25rem; height: 1.25rem; margin: 0; flex: none; }
  select { min-height: 2.75rem; max-width: 100%; min-width: 0; padding: 0.25rem 0.5rem; border: 1px solid var(--rule-strong); border-radius: 0.4rem; background: var(--raised); color: inherit; font: inherit; }
  .settings, .deeds { display: flex; flex-wrap: wrap; align-items: center; gap: 0.5rem 1rem; margin: 0.6rem 0; }
  .settings label { display: flex; flex-wrap: wrap; align-items: center; gap: 0.25rem 0.5rem; max-width: 100%; }
  .settings input { width: 6rem; }
  .trouble:empty { display: none; }
  .trouble { margin: 0.6rem 0; padding: 0.4rem 0.8rem; border-left: 6px solid var(--ink-2); background: var(--raised); overflow-wrap: anywhere; }
  .plays { margin: 0.75rem 0; padding: 0.6rem 1rem; border-left: 6px solid var(--rule-strong); border-radius: 0.7rem; background: var(--sunk); }
  .plays p { margin: 0.2rem 0; color: var(--soft); min-height: 1.4em; }
  .plays .now { border-color: var(--ink-0); outline: 2px solid var(--ink-0); }
  .paper { margin-top: 0.75rem; padding: clamp(0.75rem, 3vw, 2rem); border: 1px solid var(--rule-strong); border-radius: 0.5rem; background: #fff; overflow: hidden; }
  details { margin-top: 0.9rem; }
  summary { min-height: 2.75rem; padding: 0.6rem 0; cursor: pointer; font-weight: 650; }
  .printed { display: none; }
  @media (max-width: 30rem) { .inside { padding: 0.75rem 0.8rem 1.25rem; } }
  @media (forced-colors: active) { dialog { border: 2px solid CanvasText; } .plays .now { outline-color: Highlight; } }
  @media print { dialog { display: none; } .printed { display: block; } }
`;
