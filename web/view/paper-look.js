/**
 * How a sheet looks on paper and in its preview: black on white whatever the colour scheme, no shade that a printer loses.
 *
 * A beat is never cut by the end of a page, and the foot never stands alone on one. Figures that are turned are black
 * with an outline, what stays is grey: that holds without colour.
 */

import { css } from "lit";

export const paperLook = css`
  *, *::before, *::after { box-sizing: border-box; }
  :host { display: block; background: #fff; color: #111; line-height: 1.35; forced-color-adjust: none; print-color-adjust: exact; -webkit-print-color-adjust: exact; }
  h3 { margin: 0; font-size: 1.45rem; line-height: 1.2; }
  p { margin: 0.25rem 0; }
  .facts { color: #333; overflow-wrap: anywhere; }
  .name { display: flex; align-items: end; gap: 0.5rem; margin: 0.8rem 0 0.7rem; }
  .name i { flex: 3 1 4rem; border-bottom: 1px solid #111; height: 1.6rem; }
  .name i.short { flex-grow: 1; }
  .task { margin: 0.4rem 0 0.7rem; }
  .heard { display: grid; grid-template-columns: repeat(auto-fit, minmax(6.8rem, 1fr)); gap: 0.8rem 0.9rem; margin: 0 0 1.2rem; padding: 0; list-style: none; }
  .heard li { display: flex; align-items: end; gap: 0.4rem; break-inside: avoid; }
  .heard span { min-width: 1.4rem; font-weight: 700; }
  .heard i { flex: 1; border-bottom: 1px solid #111; height: 1.6rem; }
  .row { break-inside: avoid; padding: 0.15rem 0 0.4rem; }
  .long, .long article { break-inside: auto; display: block; }
  .pair { display: grid; grid-template-columns: repeat(2, minmax(0, 1fr)); gap: 0 28px; }
  article { min-width: 0; display: flex; flex-direction: column; }
  article > [role="img"] { margin-top: auto; padding-top: 0.2rem; }
  h4 { margin: 0; font-size: 1rem; line-height: 1.3; break-after: avoid; }
  .label { display: inline-block; min-width: 1.7rem; padding: 0 0.4rem; margin-right: 0.35rem; border: 1.5px solid #111; border-radius: 0.9rem; text-align: center; }
  .sentence { margin: 0.1rem 0 0; font-size: 0.82rem; line-height: 1.25; color: #333; overflow-wrap: anywhere; }
  svg { display: block; width: 100%; height: auto; break-inside: avoid; }
  svg + svg { margin-top: 0.6rem; }
  text { font-family: inherit; fill: #222; text-anchor: middle; }
  .lane { font-size: 12px; text-anchor: end; }
  .count { font-size: 12px; }
  .count.strong { font-size: 14.5px; font-weight: 700; fill: #111; }
  .number { font-size: 10.5px; text-anchor: start; }
  .answer { font-size: 15px; font-weight: 700; fill: #111; }
  .line { stroke: #999; fill: none; }
  .bar { stroke: #333; stroke-width: 1.2; fill: none; }
  .beats { stroke: #555; stroke-width: 1.5; fill: none; }
  .between { stroke: #777; stroke-width: 2.6; stroke-linecap: round; fill: none; }
  .blank { stroke: #111; stroke-width: 1.3; fill: none; }
  .pillar { fill: #111; stroke: #111; stroke-width: 1; }
  .hollow .pillar { fill: #fff; stroke-width: 1.5; }
  .mark { fill: none; stroke: #111; stroke-width: 1.6; stroke-linecap: round; stroke-linejoin: round; }
  .edge { fill: none; stroke: #111; stroke-width: 1.2; }
  .turned .stroke:not(.figure) .pillar { fill: #b4b4b4; stroke: #8a8a8a; }
  .turned .stroke.hollow:not(.figure) .pillar { fill: #fff; }
  .turned .stroke:not(.figure) .mark { stroke: #777; }
  table { width: 100%; border-collapse: collapse; }
  th, td { padding: 0.45rem 0.6rem 0.45rem 0; text-align: start; vertical-align: top; border-bottom: 1px solid #999; overflow-wrap: anywhere; }
  th { white-space: nowrap; }
  td:last-child { width: 80%; }
  tr { break-inside: avoid; }
  .foot { margin-top: 1rem; padding-top: 0.4rem; border-top: 1px solid #999; font-size: 0.8rem; color: #333; break-inside: avoid; break-before: avoid; }
  .link { overflow-wrap: anywhere; font-size: 0.75rem; }
  .answers { margin-top: 1.5rem; }
  @media print { .answers { break-before: page; margin-top: 0; } .page:first-child { break-before: auto; } }
`;
