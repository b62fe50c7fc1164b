/**
 * How the suggestions look: at the side of the beat where there is room for both, else over the lower half of the window.
 */

import { css } from "lit";

export const suggestLook = css`
  .panel {
    position: fixed; inset: 0 0 0 auto; z-index: 25; width: min(27rem, 100vw); height: 100dvh; overflow: auto; overscroll-behavior: contain;
    border-left: 1px solid var(--rule-strong); background: var(--paper); color: var(--ink-0); box-shadow: var(--lift);
  }
  .top { position: sticky; top: 0; z-index: 1; display: flex; align-items: center; justify-content: space-between; gap: 1rem; padding: 0.5rem 1.25rem; background: var(--paper); border-bottom: 1px solid var(--rule); }
  h2 { margin: 0; font-size: 1.2rem; }
  h2 { line-height: 1.15; }
  h2 span { display: block; font-weight: 400; color: var(--soft); font-size: 0.92rem; }
  h2:focus { outline: none; }
  h3 { margin: 0; font-size: 1.02rem; }
  .inside { padding: 0.4rem 1.25rem 1.5rem; }
  p { margin: 0.2rem 0; line-height: 1.4; overflow-wrap: anywhere; }
  .soft, .where { color: var(--soft); font-size: 0.92rem; }
  .where { font-style: italic; }
  form { display: flex; flex-wrap: wrap; align-items: center; gap: 0.3rem 0.5rem; margin: 0.5rem 0; }
  form input { flex: 1 1 9rem; min-width: 0; }
  .wishes { display: flex; flex-wrap: wrap; gap: 0.35rem; }
  .wishes button { padding: 0.2rem 0.75rem; font-size: 0.92rem; }
  .wishes .more { border-color: transparent; background: none; color: var(--soft); text-decoration: underline dotted; text-underline-offset: 0.2em; }
  .wishes button[aria-pressed="true"] { background: var(--ink-0); border-color: var(--ink-0); color: var(--paper); }
  fieldset { display: flex; flex-wrap: wrap; align-items: center; gap: 0 0.8rem; margin: 0.4rem 0 0; padding: 0; border: 0; min-width: 0; }
  fieldset .tick { gap: 0.35rem; }
  legend { float: left; padding: 0; margin-right: 0.2rem; font-weight: 600; }
  .trouble:empty { display: none; }
  .trouble { margin: 0.5rem 0; padding: 0.4rem 0.8rem; border-left: 6px solid var(--ink-2); background: var(--raised); }
  .found[aria-busy="true"] ol { opacity: 0.55; }
  ol { list-style: none; margin: 0.5rem 0 0; padding: 0; }
  .one { padding: 0.65rem 0 0.65rem 0.75rem; border-top: 1px solid var(--rule); border-left: 4px solid transparent; margin-left: -0.75rem; }
  .tried { border-left-color: var(--focus); background: var(--sunk); }
  .parts { display: flex; flex-wrap: wrap; gap: 0 0.75rem; }
  .parts b { font-weight: 600; color: var(--ink-0); }
  .deeds { display: flex; flex-wrap: wrap; align-items: center; gap: 0.4rem; margin-top: 0.35rem; }
  .top .deeds { flex: none; margin: 0; }
  .others { margin-top: 0.6rem; }
  @media (max-width: 63.99rem) {
    .panel { inset: auto 0 0 0; width: 100%; height: min(55dvh, 34rem); border-left: 0; border-top: 1px solid var(--rule-strong); }
    .top { padding: 0.3rem 0.9rem; }
    .inside { padding: 0.3rem 0.9rem 1rem; }
    /* One row that runs on: the suggestions are what is looked for. */
    .wishes { flex-wrap: nowrap; overflow-x: auto; margin-inline: -0.9rem; padding: 0.2rem 0.9rem 0.4rem; scrollbar-width: thin; }
    .wishes button { flex: none; }
  }
  @media (forced-colors: active) { .tried { border-left-color: Highlight; } .wishes button[aria-pressed="true"] { background: Highlight; color: HighlightText; } }
`;
