/**
 * What one stroke looks like: an upright pillar on its line, as high as it is loud.
 *
 * A ghost is hollow; an accent carries the accent mark of written music; graces are small marks beside the pillar.
 * Sizes are parts of the height of a line, so the same drawing serves the tall and the slim stages.
 */

/** Height of a pillar as part of its line's height. Our choice: even steps that the eye tells apart. */
const HEIGHTS = { ghost: 0.19, soft: 0.29, normal: 0.41, accent: 0.54 };

/**
 * @typedef {{ d: string, hollow: boolean, edge: string, accent: string, grace: string, top: number, head: number, width: number }} Pillar
 *   paths: d of the pillar itself, edge of the outline that the last change draws around it; accent and grace are ""
 *   where there is none; top of the pillar, and head: top of all that stands over it.
 * @typedef {{ x: number, y: number, width: number, height: number }} Box
 */

/**
 * Draw a stroke.
 * @param {import("./shapes.js").Stroke} stroke
 * @param {number} x middle of the pillar
 * @param {number} foot y of the line that it stands on
 * @param {number} lane height of the line
 * @param {number} column width of a column: pillars stay slimmer
 * @returns {Pillar}
 */
export function drawPillar(stroke, x, foot, lane, column) {
  const width = Math.max(4, Math.min(lane * 0.27, column * 0.4, 11));
  const hollow = stroke.dynamic === "ghost";
  const height = Math.max(hollow ? 5 : 6, lane * HEIGHTS[stroke.dynamic]);
  const box = { x: x - width / 2, y: foot - height, width, height };
  const far = lane > 30 ? 2.6 : 2;
  const over = box.y - (stroke.changed_by.length ? far : 0);
  const rise = Math.max(1.6, lane * 0.06);
  const accented = stroke.dynamic === "accent";
  const mark = over - rise - Math.max(1, lane * 0.035);
  const accent = accented ? accentMark(x, mark, rise, width) : "";
  return {
    d: stone(box, 0, width * 0.42),
    edge: stone(box, far, width * 0.42 + far),
    hollow,
    accent,
    grace: graceMark(stroke.grace, box, lane),
    top: box.y,
    head: accented ? mark - rise : over,
    width,
  };
}

/**
 * Draw an upright with a round head and a flat foot, `out` pixels larger all round.
 * @param {Box} box @param {number} out @param {number} round @returns {string}
 */
function stone(box, out, round) {
  const left = n(box.x - out);
  const right = n(box.x + box.width + out);
  const top = n(box.y - out);
  const foot = n(box.y + box.height + out);
  const r = n(Math.min(round, (right - left) / 2, foot - top));
  return `M${left} ${foot}V${n(top + r)}Q${left} ${top} ${n(left + r)} ${top}H${n(right - r)}Q${right} ${top} ${right} ${n(top + r)}V${foot}Z`;
}

/**
 * @param {number} x @param {number} y of its point @param {number} rise half its height @param {number} width of the pillar
 * @returns {string}
 */
function accentMark(x, y, rise, width) {
  const half = Math.max(3, width * 0.72);
  return `M${n(x - half)} ${n(y - rise)}L${n(x + half)} ${n(y)}L${n(x - half)} ${n(y + rise)}`;
}

/**
 * @param {string} grace @param {Box} box @param {number} lane
 * @returns {string}
 */
function graceMark(grace, box, lane) {
  const foot = box.y + box.height;
  const gap = Math.max(2.2, lane * 0.09);
  const low = Math.max(3.5, lane * 0.2);
  const before = { flam: 1, drag: 2, ruff: 3 };
  if (grace === "flam" || grace === "drag" || grace === "ruff") {
    let path = "";
    for (let i = 1; i <= before[grace]; i += 1) path += `M${n(box.x - i * gap - 0.6)} ${n(foot - 0.5)}v${n(-low)}`;
    return path;
  }
  const right = box.x + box.width;
  const middle = box.y + box.height / 2;
  if (grace === "buzz") {
    const step = Math.max(1.6, lane * 0.075);
    const x = right + gap * 0.9;
    return `M${n(x)} ${n(middle - step)}h${n(2 * step)}l${n(-2 * step)} ${n(2 * step)}h${n(2 * step)}`;
  }
  if (grace === "diddle") {
    const out = Math.max(2, lane * 0.07);
    return `M${n(box.x - out)} ${n(middle + out)}L${n(right + out)} ${n(middle - out)}`;
  }
  if (grace === "choke") {
    const x = right + gap;
    const half = Math.max(2, lane * 0.1);
    return `M${n(x)} ${n(middle - half)}v${n(2 * half)}M${n(x)} ${n(middle)}h${n(half)}`;
  }
  return "";
}

/** @param {number} value @returns {number} two decimals are finer than any screen */
function n(value) {
  return Math.round(value * 100) / 100;
}
