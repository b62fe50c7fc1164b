/**
 * How the stages hang together: a thread from every stroke to what became of it.
 *
 * Between two stages lies a gap; a thread enters it at the top and leaves it at the bottom. Kept strokes run straight
 * down, moved ones lean, merged ones join the survivor, a left-out one ends in a stub, an added one begins with a dot.
 * What crosses the loop goes out at one edge and comes in at the other. Inside a band a strand goes straight on to its
 * pillar. Coordinates: x from layAxis; y from the top of the gap, or of the band's lines.
 */

/** How far a stub stands beside another thread of the same place, in pixels. Our choice. */
const BESIDE = 5;
/** Beyond both ends of a band: the frame cuts what is too much, whatever the height of the words beside it. */
const FAR = 2000;

/**
 * @typedef {{ id: string, fate: import("./shapes.js").Thread["fate"], crosses: boolean, d: string, dot: [number, number] | null,
 *   stub: string }} Strand
 */

/**
 * @typedef {{ id: string, at: number, end: "from" | "to" }} Pull
 *   a thread whose one end follows a stroke that is carried: it is drawn to the place `at`
 */

/**
 * Draw the strands of the gap above a stage.
 * @param {import("./shapes.js").Stage} stage the lower of the two
 * @param {number} height of the gap @param {import("./axis.js").Axis} axis @param {Pull | null} [pull]
 * @returns {Strand[]}
 */
export function drawGap(stage, height, axis, pull = null) {
  const going = new Set(stage.threads.map((thread) => (thread.from && thread.to ? thread.from[0] : null)));
  return stage.threads.map((thread) => {
    const pulled = pull?.id === thread.id ? pull : null;
    const from = thread.from ? round(axis.x(pulled?.end === "from" ? pulled.at : thread.from[0])) : null;
    const to = thread.to ? round(axis.x(pulled?.end === "to" ? pulled.at : thread.to[0])) : null;
    const base = { id: thread.id, fate: thread.fate, crosses: thread.crosses, dot: null, stub: "" };
    if (from === null) {
      const x = to ?? 0;
      const start = height * 0.4;
      return { ...base, d: `M${x} ${start}V${height}`, dot: /** @type {[number, number]} */ ([x, start]) };
    }
    if (to === null) {
      const end = height * 0.55;
      // Beside a thread that goes on, a stub would look like a mark on it.
      const x = thread.from && going.has(thread.from[0]) ? from - BESIDE : from;
      return { ...base, d: x === from ? `M${x} 0V${end}` : `M${from} 0Q${x} 0 ${x} ${end * 0.5}V${end}`, stub: `M${x - 4} ${end}h8` };
    }
    if (thread.crosses && !pulled && thread.from && thread.to) {
      const onward = thread.to[0] < thread.from[0];
      return { ...base, d: cross(from, to, height, onward ? axis.width : 0, onward ? 0 : axis.width) };
    }
    return { ...base, d: from === to ? `M${from} 0V${height}` : lean(from, 0, to, height) };
  });
}

/**
 * Draw the strands inside a band: from its top to the pillars, and from the pillars to its bottom.
 * @param {import("./shapes.js").Stage} stage
 * @param {import("./shapes.js").Stage | null} next the stage below, if there is one
 * @param {import("./band.js").Lines} lines @param {import("./axis.js").Axis} axis
 * @param {{ id: string, at: number, surface: string, both: boolean } | null} [carried] a stroke that is carried and where
 *   it would land: its strand leaves from there, and enters there if `both`
 * @returns {Map<string, { enters: string, leaves: string }>} by stroke id
 */
export function drawThrough(stage, next, lines, axis, carried = null) {
  const going = new Set();
  for (const thread of next ? next.threads : []) if (thread.from) going.add(thread.id);
  const through = new Map();
  for (const stroke of stage.strokes) {
    const foot = lines.feet.get(stroke.surface);
    if (foot === undefined) continue;
    const lands = carried?.id === stroke.id ? carried : null;
    const out = round(axis.x((lands ?? stroke).at));
    const off = lands ? (lines.feet.get(lands.surface) ?? foot) : foot;
    const x = lands?.both ? out : round(axis.x(stroke.at));
    through.set(stroke.id, {
      // Over the chosen stage stand the counts: there the strands begin below them.
      enters: stage.stage === 0 ? "" : `M${x} ${lines.tall ? lines.above - 4 : -FAR}V${lands?.both ? off : foot}`,
      leaves: going.has(stroke.id) ? `M${out} ${off}V${FAR}` : "",
    });
  }
  return through;
}

/** @param {number} x1 @param {number} y1 @param {number} x2 @param {number} y2 @returns {string} */
function lean(x1, y1, x2, y2) {
  const bend = y1 + (y2 - y1) * 0.5;
  return `M${x1} ${y1}C${x1} ${bend} ${x2} ${bend} ${x2} ${y2}`;
}

/**
 * @param {number} from @param {number} to @param {number} height @param {number} out @param {number} back
 * @returns {string}
 */
function cross(from, to, height, out, back) {
  const middle = height / 2;
  const bow = height * 0.45;
  const toward = Math.sign(out - from) * Math.min(Math.abs(out - from) * 0.5, 40);
  const after = Math.sign(to - back) * Math.min(Math.abs(to - back) * 0.5, 40);
  return (
    `M${from} 0C${from} ${bow} ${out - toward} ${middle} ${out} ${middle}` +
    `M${back} ${middle}C${back + after} ${middle} ${to} ${height - bow} ${to} ${height}`
  );
}

/** @param {number} value @returns {number} */
function round(value) {
  return Math.round(value * 100) / 100;
}
