/**
 * How the choice of the player looks: a sheet of its own, as gb-player.js is long without it.
 */

import { css } from "lit";

export const playerLook = css`
  :host { display: block; }
  dialog {
    width: min(44rem, calc(100vw - 1.5rem)); max-height: calc(100dvh - 1.5rem); padding: 0; overflow: auto;
    border: 0; border-radius: 1rem; background: var(--paper); color: var(--ink-0); box-shadow: var(--lift);
  }
  dialog::backdrop { background: rgb(10 15 20 / 0.45); }
  .inside { padding: 1rem 1.25rem 1.5rem; }
  .top { display: flex; align-items: center; justify-content: space-between; gap: 1rem; }
  h2 { margin: 0; font-size: 1.3rem; }
  h3 { margin: 0; font-size: 1.05rem; }
  p { margin: 0.3rem 0; line-height: 1.4; overflow-wrap: anywhere; }
  .soft { color: var(--soft); font-size: 0.92rem; }
  .asked { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(17rem, 100%), 1fr)); gap: 0.5rem 1.5rem; margin: 0.6rem 0 0; }
  fieldset { margin: 0; padding: 0; border: 0; min-width: 0; }
  fieldset .tick { display: flex; line-height: 1.3; }
  legend { padding: 0; font-weight: 650; }
  input[type="radio"] { accent-color: var(--ink-0); width: 1.25rem; height: 1.25rem; margin: 0; flex: none; }
  section { margin-top: 1rem; padding-top: 0.75rem; border-top: 1px solid var(--rule); }
  .care { padding: 0.4rem 0.8rem; border-left: 6px solid var(--rule-strong); border-radius: 0.5rem; background: var(--sunk); }
  ul { list-style: none; margin: 0.5rem 0; padding: 0; }
  li { padding: 0.3rem 0; }
  .row { display: flex; flex-wrap: wrap; align-items: center; gap: 0.3rem 0.5rem; }
  .row label { display: grid; grid-template-columns: 5.3rem 4.5rem; align-items: center; gap: 0.4rem; }
  .row button { padding-inline: 0.8rem; }
  .row label input { width: 100%; min-width: 0; }
  .row .soft { flex: 1 1 12rem; }
  .trouble:empty { display: none; }
  .trouble { margin: 0.6rem 0; padding: 0.4rem 0.8rem; border-left: 6px solid var(--ink-2); background: var(--raised); }
  .sum { margin: 0.75rem 0; min-height: 2.8em; }
  .sum b { font-weight: 680; }
  @media (max-width: 30rem) { .inside { padding: 0.75rem 0.8rem 1.25rem; } }
  @media (forced-colors: active) { dialog { border: 2px solid CanvasText; } }
`;
