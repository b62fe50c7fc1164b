/**
 * How the comparison of two beats looks: a sheet of its own, as gb-onto.js is long without it.
 *
 * Side by side where there is room, one under the other on a phone.
 */

import { css } from "lit";

export const ontoLook = css`
  dialog {
    width: min(76rem, calc(100vw - 1.5rem)); max-height: calc(100dvh - 1.5rem); padding: 0; overflow: auto;
    border: 0; border-radius: 1rem; background: var(--paper); color: var(--ink-0); box-shadow: var(--lift);
    --behind: var(--paper); --labels: 5rem; --head: 0px;
  }
  dialog::backdrop { background: rgb(10 15 20 / 0.45); }
  .inside { padding: 1rem 1.25rem 1.5rem; }
  .top { display: flex; align-items: start; justify-content: space-between; gap: 1rem; }
  .top button { flex: none; }
  h2 { margin: 0.3rem 0 0; font-size: 1.3rem; line-height: 1.25; overflow-wrap: anywhere; min-width: 0; }
  h2:focus { outline: none; }
  h3 { margin: 1.1rem 0 0.4rem; font-size: 1rem; }
  p { margin: 0.3rem 0 0.6rem; color: var(--soft); line-height: 1.4; max-width: 60rem; }
  .trouble:empty { display: none; }
  .trouble { padding: 0.4rem 0.8rem; border-left: 6px solid var(--ink-2); background: var(--raised); color: var(--ink-0); overflow-wrap: anywhere; }
  form { display: flex; flex-wrap: wrap; gap: 0.6rem; align-items: end; margin-bottom: 0.5rem; max-width: 60rem; }
  .grow { flex: 1 1 15rem; min-width: 0; display: grid; grid-template-columns: minmax(0, 1fr); gap: 0.25rem; }
  textarea { width: 100%; min-height: 3.6rem; resize: vertical; font-family: ui-monospace, monospace; font-size: 0.9rem; }
  input[type="file"] { max-width: 100%; min-height: 2.75rem; padding: 0.4rem 0; }
  ul { list-style: none; margin: 0; padding: 0; display: grid; gap: 0.4rem; grid-template-columns: repeat(auto-fill, minmax(min(15rem, 100%), 1fr)); }
  li button { width: 100%; height: 100%; text-align: start; border-radius: 0.7rem; padding: 0.5rem 0.8rem; }
  li b { display: block; }
  li span { color: var(--soft); font-size: 0.9rem; }
  .told { color: var(--ink-0); font-size: 1.05rem; font-weight: 650; }
  .ways { display: flex; flex-wrap: wrap; gap: 0.5rem 0.75rem; align-items: center; margin-bottom: 0.75rem; }
  .ways span { color: var(--soft); overflow-wrap: anywhere; }
  table { width: 100%; border-collapse: collapse; table-layout: fixed; }
  thead th { padding: 0.3rem 0.5rem; text-align: start; font-weight: 680; border-bottom: 1.5px solid var(--rule-strong); overflow-wrap: anywhere; }
  thead th:first-child { width: 17rem; }
  tbody th, td { padding: 0.6rem 0.5rem; text-align: start; vertical-align: top; border-bottom: 1px solid var(--rule); font-weight: 400; }
  tbody th { line-height: 1.35; overflow-wrap: anywhere; }
  b { font-weight: 680; }
  .plain { display: block; color: var(--soft); font-size: 0.92rem; }
  .verdict { display: inline-block; margin-top: 0.35rem; padding: 0.05rem 0.6rem; border: 1px solid var(--rule-strong); border-radius: 1rem; font-size: 0.88rem; font-weight: 650; }
  .verdict.carried { border-color: var(--ink-0); background: var(--ink-0); color: var(--paper); }
  .verdict.missed { border-style: dashed; border-width: 2px; }
  .why { font-size: 0.92rem; }
  .picture { overflow-x: auto; overflow-y: hidden; min-height: 1.5rem; }
  .summary { display: block; padding-left: var(--labels); font-size: 0.85rem; color: var(--soft); }
  .whose { display: none; }
  @media (max-width: 56rem) {
    table, tbody, tr, th, td { display: block; }
    thead { position: absolute; width: 1px; height: 1px; margin: -1px; overflow: hidden; clip-path: inset(50%); }
    tbody tr { padding: 0.75rem 0; border-bottom: 1px solid var(--rule); }
    tbody th, td { padding: 0 0 0.4rem; border: 0; }
    .whose { display: block; margin-top: 0.35rem; font-size: 0.85rem; font-weight: 650; overflow-wrap: anywhere; }
    .inside { padding: 0.75rem 0.9rem 1.25rem; }
  }
  @media (forced-colors: active) { dialog { border: 2px solid CanvasText; } }
`;
