/**
 * How "Before you play it" looks: a sheet of its own, as gb-before.js is long without it.
 */

import { css } from "lit";

export const beforeLook = css`
  :host { display: block; container-type: inline-size; }
  .all { border-top: 1px solid var(--rule); }
  @media (min-width: 72rem) { .all { height: 100%; border-top: 0; border-left: 1px solid var(--rule); padding-left: 1.5rem; } }
  h2 { margin: 0; font-size: 1rem; line-height: 1.3; }
  .top { display: flex; flex-wrap: wrap; align-items: center; justify-content: space-between; gap: 0 1rem; min-height: 2.75rem; }
  p { margin: 0.15rem 0; line-height: 1.4; overflow-wrap: anywhere; }
  .soft { color: var(--soft); }
  .trouble { padding-left: 0.7rem; border-left: 4px double var(--ink-0); margin: 0.2rem 0 0.4rem; }
  ul, ol { list-style: none; margin: 0; padding: 0; }
  li.spot { border-left: 3px solid transparent; margin-left: -0.6rem; padding-left: calc(0.6rem - 3px); border-radius: 0.2rem; }
  li.looked { border-left-color: var(--focus); }
  .spot > button {
    display: flex; align-items: center; gap: 0.55rem; width: 100%; padding: 0.3rem 0; border: 0; border-radius: 0.4rem; background: none; text-align: start; line-height: 1.3;
  }
  .spot > button:hover { background: var(--sunk); }
  .spot > button span { min-width: 0; overflow-wrap: anywhere; }
  .spot svg { flex: none; width: 0.6rem; height: 0.6rem; fill: var(--soft); }
  .looked svg { fill: var(--focus); }
  .deeds { display: flex; flex-wrap: wrap; gap: 0.4rem; padding: 0.1rem 0 0.5rem 1.15rem; }
  .deeds p { flex: 1 1 100%; margin: 0; color: var(--soft); }
  .deeds button { padding: 0.2rem 0.9rem; font-size: 0.95rem; line-height: 1.2; text-align: start; }
  button.more, button.fold { padding: 0.2rem 0; border: 0; background: none; color: var(--soft); text-decoration: underline dotted; text-underline-offset: 0.2em; font-size: 0.95rem; }
  button.fold { display: inline-flex; align-items: center; gap: 0.4rem; }
  .end { display: flex; flex-wrap: wrap; align-items: center; gap: 0 1.4rem; }
  .inside { padding: 0.3rem 0 0.6rem; }
  .legend { display: flex; flex-wrap: wrap; gap: 0 1.1rem; margin: 0; padding-bottom: 0.4rem; color: var(--soft); font-size: 0.9rem; }
  .legend i { color: var(--ink-0); font-weight: 600; }
  .narrow { display: none; }
  @media (max-width: 50rem) { .narrow { display: block; margin-left: -0.5rem; } }
  @media (forced-colors: active) { li.looked { border-left-color: Highlight; } .spot svg { fill: CanvasText; } }
`;
