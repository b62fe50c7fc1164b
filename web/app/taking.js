/**
 * Files for other programs: which question makes each, and what comes of its answer.
 */

/** @typedef {import("./commands.js").Commands} Commands @typedef {import("../view/gb-files.js").Made} Made */

/** Pixels of a staff space in a picture that is saved, and how many spaces wide its lines may be. Our choice. */
const PICTURE = { space: 10, width: 110 };

/** Dots to a pixel, so that a picture is sharp on close screens. Our choice. */
const DOTS = 2;

/**
 * Make a file of a document.
 * @param {Commands} commands @param {import("../draw/shapes.js").View} shown @param {{ stage: number, counts: boolean, sticking: boolean }} how
 * @returns {import("../view/gb-files.js").Make}
 */
export function makerOf(commands, shown, { stage, counts, sticking }) {
  return async (kind, { whole, pads }) => {
    const name = whole ? "stages" : `stage-${stage}`;
    const ask = (/** @type {{ ask: string, [field: string]: unknown }} */ question) => commands.study({ ...question, stage }, shown);
    if (kind === "midi") {
      const told = await ask({ ask: "export_midi", through: whole, profile: pads ? "kit" : "gm" });
      return told.trouble ? told : made([bytesOf(told.base64)], "audio/midi", `${name}.mid`, told.says);
    }
    if (kind === "score" || kind === "packed") {
      const form = kind === "score" ? "musicxml" : "mxl";
      const told = await ask({ ask: "export_score", through: whole, form });
      const type = kind === "score" ? "application/vnd.recordare.musicxml+xml" : "application/vnd.recordare.musicxml";
      return told.trouble ? told : made([told.text || bytesOf(told.base64)], type, `${name}.${form}`, told.says);
    }
    if (kind === "tab") {
      const told = await ask({ ask: "export_tab", through: whole });
      return told.trouble ? told : made([told.text], "text/plain", `${name}.txt`, told.says);
    }
    const told = await ask({ ask: "staff", counts, sticking, ...PICTURE });
    if (told.trouble) return told;
    if (kind === "staff") return made([told.svg], "image/svg+xml", `${name}.svg`, told.says);
    const png = await dotsOf(told.svg);
    return png ? made([png], "image/png", `${name}.png`, told.says) : { trouble: "The browser draws no picture of it. Take the SVG." };
  };
}

/** @param {BlobPart[]} parts @param {string} type @param {string} ending @param {string[]} says @returns {Made} */
function made(parts, type, ending, says) {
  return { blob: new Blob(parts, { type }), ending, says: says.map((text) => (/[.!?]$/.test(text) ? text : `${text}.`)) };
}

/** Draw an SVG in dots, black on white. @param {string} svg @returns {Promise<Blob | null>} null where the browser does not */
async function dotsOf(svg) {
  const image = new Image();
  image.src = `data:image/svg+xml,${encodeURIComponent(svg)}`; // the page's policy lets in no blob: images
  try {
    await image.decode();
  } catch {
    return null;
  }
  const sheet = document.createElement("canvas");
  const { documentElement: root } = new DOMParser().parseFromString(svg, "image/svg+xml"); // an image rounds its size
  sheet.width = Math.ceil(DOTS * Number(root.getAttribute("width")));
  sheet.height = Math.ceil(DOTS * Number(root.getAttribute("height")));
  const pen = sheet.getContext("2d");
  if (!pen) return null;
  pen.fillStyle = "#fff";
  pen.fillRect(0, 0, sheet.width, sheet.height);
  pen.drawImage(image, 0, 0, sheet.width, sheet.height);
  return new Promise((done) => sheet.toBlob(done, "image/png"));
}

/** @param {string} base64 @returns {Uint8Array<ArrayBuffer>} */
function bytesOf(base64) {
  return Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
}
