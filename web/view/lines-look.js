/**
 * How the lines of a stage look: a sheet of its own, as gb-lines.js is long without it.
 */

import { css } from "lit";

export const linesLook = css`
  :host { display: grid; grid-template-columns: var(--labels) auto; overflow: visible; }
  .labels {
    grid-area: 1 / 1; position: sticky; left: var(--head); z-index: 3; align-self: end; padding-right: 0.5rem;
    font-size: 0.72rem; line-height: 1.05; color: var(--faint); text-align: right; pointer-events: none;
    padding-block: var(--above) var(--below);
    background: linear-gradient(to right, var(--behind) 80%, transparent);
  }
  :host([tall]) .labels { font-size: var(--label-size); color: var(--soft); padding-right: 0; }
  .label { height: var(--lane); padding-bottom: var(--under); display: flex; align-items: end; justify-content: flex-end; overflow: hidden; }
  .label span { overflow: hidden; text-overflow: ellipsis; white-space: nowrap; }
  button.label {
    width: 100%; padding: 0 0.5rem var(--under) 0; border: 0; border-radius: 0.4rem; background: none; color: inherit; font: inherit; line-height: inherit;
    text-align: right; cursor: pointer; pointer-events: auto; text-decoration: underline transparent; text-underline-offset: 0.2em;
  }
  button.label:hover { color: var(--ink-0); text-decoration-color: currentColor; }
  button.label:focus-visible { outline: 3px solid var(--focus); outline-offset: -3px; }
  button.label span { white-space: normal; overflow-wrap: anywhere; }
  button.quiet span { text-decoration: line-through; font-style: italic; }
  svg { grid-area: 1 / 2; display: block; overflow: visible; }
  gb-places { grid-area: 1 / 2; z-index: 2; min-width: 0; }
  gb-limbs { grid-area: 1 / 2; z-index: 2; min-width: 0; }
  .line { stroke: var(--rule); }
  .bar { stroke: var(--rule-strong); }
  .beats { stroke: var(--rule-strong); stroke-width: 1.5; fill: none; }
  .between { stroke: var(--rule-strong); stroke-width: 3; stroke-linecap: round; fill: none; }
  .strand { stroke: var(--strand); stroke-width: 1; fill: none; }
  .glow { stroke: var(--lamp-strong); stroke-width: 3; stroke-linecap: round; fill: none; }
  .hollow { fill: var(--behind); stroke-width: 1.6; }
  .edge { fill: none; stroke-width: 1.6; }
  :host([tall]) .edge, :host([tall]) .hollow { stroke-width: 2; }
  .mark { fill: none; stroke: var(--ink-0); stroke-width: 1.4; }
  :host([tall]) .mark { stroke-width: 1.8; }
  .grace { stroke-linecap: round; stroke-linejoin: round; }
  :host([tall]) .grace { stroke-width: 2.2; }
  .lifted { opacity: 0.3; }
  .landing .edge { stroke: var(--focus); stroke-dasharray: 3 2.5; }
  .landing .way { fill: none; stroke: var(--focus); stroke-width: 2; stroke-linecap: round; }
  .landing .spot { stroke: var(--focus); stroke-width: 3; stroke-linecap: round; }
  text { font-family: inherit; text-anchor: middle; fill: var(--soft); }
  .count { font-size: 0.85rem; paint-order: stroke; stroke: var(--behind); stroke-width: 5; stroke-linejoin: round; }
  .count.strong { font-weight: 750; font-size: 1.05rem; fill: var(--ink-0); }
  .count.now { fill: var(--lamp-text); font-weight: 750; }
  .bars { font-size: 0.66rem; text-anchor: start; fill: var(--faint); }
  .who { font-size: 0.64rem; font-weight: 650; paint-order: stroke; stroke: var(--behind); stroke-width: 3; }
  @media (forced-colors: active) {
    .line, .bar, .beats, .between { stroke: GrayText; }
    .labels { background: Canvas; color: CanvasText; }
    .landing .edge, .landing .way, .landing .spot { stroke: Highlight; }
    text { fill: CanvasText; }
  }
`;
