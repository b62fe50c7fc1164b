/**
 * How a practice plan looks, and what of it a printer sees: the plan alone, black on white, no step cut by the end of a
 * page.
 */

import { css } from "lit";

export const planLook = css`
  :host { display: block; }
  dialog {
    width: min(48rem, calc(100vw - 1.5rem)); max-height: calc(100dvh - 1.5rem); padding: 0; overflow: auto;
    border: 0; border-radius: 1rem; background: var(--paper); color: var(--ink-0); box-shadow: var(--lift);
  }
  dialog::backdrop { background: rgb(10 15 20 / 0.45); }
  .inside { padding: 1rem 1.25rem 1.5rem; }
  .top { display: flex; align-items: center; justify-content: space-between; gap: 1rem; }
  dialog h2 { margin: 0; font-size: 1.3rem; }
  dialog h3 { margin: 0; font-size: 1.05rem; line-height: 1.3; }
  p { margin: 0.2rem 0; line-height: 1.45; overflow-wrap: anywhere; }
  .soft { color: var(--soft); font-size: 0.92rem; }
  .settings, .deeds { display: flex; flex-wrap: wrap; align-items: center; gap: 0.4rem 1.1rem; margin: 0.5rem 0 0; }
  .settings label { display: flex; flex-wrap: wrap; align-items: center; gap: 0.25rem 0.5rem; max-width: 100%; min-width: 0; }
  .settings input[type="number"] { width: 5.5rem; }
  select { min-height: 2.75rem; max-width: 100%; min-width: 0; padding: 0.25rem 0.5rem; border: 1px solid var(--rule-strong); border-radius: 0.4rem; background: var(--raised); color: inherit; font: inherit; }
  .trouble:empty { display: none; }
  .trouble { margin: 0.6rem 0; padding: 0.4rem 0.8rem; border-left: 6px solid var(--ink-2); background: var(--raised); }
  dialog .care { margin: 0.9rem 0; padding: 0.6rem 1rem 0.7rem; border-left: 6px solid var(--rule-strong); border-radius: 0.7rem; background: var(--sunk); }
  .care ul { margin: 0.3rem 0 0; padding-left: 1.1rem; }
  .care li { margin: 0.15rem 0; line-height: 1.4; overflow-wrap: anywhere; }
  .sum { font-size: 1.05rem; font-weight: 650; }
  dialog ol { list-style: none; counter-reset: step; margin: 0.9rem 0 0; padding: 0; }
  dialog .step { counter-increment: step; position: relative; padding: 0.7rem 0 0.7rem 2.6rem; border-top: 1px solid var(--rule); }
  dialog .step::before {
    content: counter(step); position: absolute; left: 0; top: 0.65rem; display: grid; place-items: center; min-width: 1.75rem; height: 1.75rem;
    border: 1.5px solid var(--rule-strong); border-radius: 0.9rem; font-size: 0.9rem; font-weight: 700;
  }
  dialog .now::before { background: var(--ink-0); border-color: var(--ink-0); color: var(--paper); }
  .head { display: flex; flex-wrap: wrap; justify-content: space-between; align-items: baseline; gap: 0 1rem; }
  .listen { color: var(--soft); }
  .listen b { font-weight: 600; }
  .foot { display: flex; flex-wrap: wrap; align-items: center; justify-content: space-between; gap: 0.2rem 1rem; }
  .foot .deeds { margin: 0; gap: 0.4rem; }
  .tempos { font-variant-numeric: tabular-nums; }
  .at { padding: 0.05rem 0.4rem; border-radius: 0.6rem; background: var(--ink-0); color: var(--paper); font-weight: 700; }
  .printed { display: none; }
  @media (max-width: 30rem) {
    .inside { padding: 0.75rem 0.8rem 1.25rem; }
    dialog .step { padding-left: 0; }
    dialog .step::before { position: static; float: left; margin-right: 0.6rem; margin-top: -0.15rem; }
  }
  @media (forced-colors: active) { dialog { border: 2px solid CanvasText; } .at { border: 1px solid Highlight; } .now::before { border-color: Highlight; } }
  @media print {
    dialog { display: none; }
    .printed { display: block; background: #fff; color: #111; font-size: 10.5pt; line-height: 1.35; forced-color-adjust: none; }
    .printed h1 { margin: 0; font-size: 17pt; }
    .printed h2 { margin: 0; font-size: 11.5pt; break-after: avoid; }
    .printed h2 span { font-weight: 400; font-size: 10pt; }
    .printed p { margin: 0.15rem 0; }
    .printed .care { margin: 0.5rem 0; padding: 0.4rem 0.6rem 0.4rem 1.5rem; border: 1.5px solid #111; border-radius: 4px; break-inside: avoid; }
    .printed ol { margin: 0.6rem 0 0; padding-left: 2.1rem; }
    .printed .step { break-inside: avoid; padding: 0.35rem 0; border-top: 1px solid #999; }
    .printed .step::marker { font-weight: 700; }
    .rungs { display: flex; flex-wrap: wrap; gap: 0.35rem 1.1rem; margin-top: 0.35rem; }
    .rung { display: inline-flex; align-items: center; gap: 0.25rem; }
    .rung b { min-width: 1.6rem; text-align: end; font-variant-numeric: tabular-nums; }
    .rung i { width: 0.85rem; height: 0.85rem; border: 1px solid #111; }
    .link { font-size: 8pt; border-top: 1px solid #999; padding-top: 0.3rem; }
  }
`;
