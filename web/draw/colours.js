/**
 * Which colour a stage has: an ink number, 0 for the base beat, 1 to INKS for the variations, then round again.
 *
 * The inks themselves are in style.css (--ink-0 ...), one set for light and one for dark. They were chosen so that
 * neighbours differ for every kind of colour vision and each can be read as text on the page. A stage always carries
 * its number too: colour is never the only sign.
 */

/** How many inks there are besides the base beat's. Our choice: more can't be told apart. */
export const INKS = 12;

/**
 * Give the ink number of a stage.
 * @param {number} stage @returns {number} 0 to INKS
 */
export function inkOf(stage) {
  return stage === 0 ? 0 : ((stage - 1) % INKS) + 1;
}

/**
 * Give the stage that a stroke's edge is coloured by: the last that changed it, or null if none did.
 * @param {import("./shapes.js").Stroke} stroke @returns {number | null}
 */
export function edgeOf(stroke) {
  return stroke.changed_by.length ? stroke.changed_by[stroke.changed_by.length - 1] : null;
}
