/**
 * How the stages look together: a sheet of its own, as gb-stages.js is long without it.
 */

import { css } from "lit";

export const stagesLook = css`
  :host { display: block; --behind: var(--paper); --label-size: 0.82rem; }
  :host([narrow]) { --label-size: 0.72rem; }
  .scroller { overflow-x: auto; overflow-y: hidden; }
  .stack { position: relative; width: max-content; min-width: 100%; padding: 0 0 0.5rem; isolation: isolate; }
  section {
    display: grid; grid-template-columns: var(--head) auto; position: relative; overflow: clip;
    border-radius: 0.8rem; background: var(--behind); scroll-margin: 6rem 0 2rem;
  }
  section:not(.chosen) { cursor: pointer; }
  section:not(.chosen):hover { --behind: var(--sunk); }
  section.chosen { --behind: var(--raised); }
  .edge {
    position: absolute; z-index: 4; inset: 0; border: 1.5px solid var(--rule); border-left: 5px solid currentColor; border-radius: 0.8rem; pointer-events: none;
  }
  section.off gb-lines { opacity: 0.5; }
  gb-head { position: sticky; left: 0; z-index: 3; width: var(--head); background: var(--behind); border-radius: 0.8rem; }
  gb-lines { z-index: 1; align-content: center; }
  :host([narrow]) section { grid-template-columns: auto; scroll-margin: 1rem 0 8rem; }
  :host([narrow]) gb-head { width: var(--frame); }
  gb-stroke-bar { grid-area: 2 / 1; align-self: end; position: sticky; left: 0; z-index: 3; width: var(--head); background: var(--behind); }
  .chosen gb-lines { grid-row: 1 / 3; grid-column: 2; align-self: start; }
  .chosen gb-head { grid-area: 1 / 1; }
  :host([narrow]) .chosen gb-head, :host([narrow]) .chosen gb-lines, :host([narrow]) gb-stroke-bar { grid-area: auto; }
  :host([narrow]) gb-stroke-bar { width: var(--frame); }
  .words { grid-area: 3 / 1 / auto / span 2; position: sticky; left: 0; z-index: 3; width: var(--frame); box-sizing: border-box; padding: 0 1rem 0.75rem 2.85rem; background: var(--behind); border-radius: 0.8rem; }
  :host([narrow]) .words { grid-area: auto; padding-left: 0.85rem; }
  .light {
    position: absolute; z-index: 1; inset: 0 auto 0 0; width: 3.2rem; margin-left: -1.6rem; visibility: hidden;
    pointer-events: none; will-change: transform; mix-blend-mode: var(--lamp-blend);
    background: linear-gradient(to right, transparent, var(--lamp) 38%, var(--lamp) 62%, transparent);
  }
  .marker {
    position: absolute; z-index: 2; top: 0; left: -7px; width: 0; height: 0; visibility: hidden; pointer-events: none;
    border: 7px solid transparent; border-top: 9px solid var(--lamp-text); border-bottom: 0; will-change: transform;
  }
  .light.on, .marker.on { visibility: visible; }
  @media (forced-colors: active) {
    section.chosen { outline: 2px solid Highlight; outline-offset: -2px; }
    .light { width: 1rem; margin-left: -0.5rem; border-inline: 1px solid Highlight; background: none; mix-blend-mode: normal; }
  }
`;
