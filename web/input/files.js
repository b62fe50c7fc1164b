/**
 * A file that a person gave: what kind is it, and what is in it?
 *
 * A MIDI file is known by its first four bytes ("MThd", or "RIFF" around it), never by its name; a score (MusicXML) by
 * "PK" where it is packed, else by the "<" that it begins with, in any encoding. All else is taken as text and left to
 * the engine, which says what is wrong with it.
 */

/** Larger files are no beat. The engine has finer limits of its own. Our choice. */
export const LARGEST = 2_000_000;

/** @typedef {{ kind: "text", name: string, text: string } | { kind: "midi" | "score", name: string, base64: string }} Given */

/** What comes before the first letter: byte order marks, white space, and the empty half of a letter of two bytes. */
const BEFORE = new Set([0xef, 0xbb, 0xbf, 0xff, 0xfe, 0, 0x20, 0x09, 0x0a, 0x0d]);

/** A file that can't be taken; the message is for a person. */
export class FileTrouble extends Error {}

/**
 * Read a file. Rejects with FileTrouble.
 * @param {File} file @returns {Promise<Given>}
 */
export async function readFile(file) {
  if (file.size > LARGEST) {
    throw new FileTrouble(`${file.name} is too large (${megabytes(file.size)} MB): what is opened here has at most ${megabytes(LARGEST)} MB.`);
  }
  let bytes;
  try {
    bytes = new Uint8Array(await file.arrayBuffer());
  } catch {
    throw new FileTrouble(`${file.name} could not be read. If it is a folder, open a file in it.`);
  }
  const mark = String.fromCharCode(...bytes.subarray(0, 4));
  if (mark === "MThd" || mark === "RIFF") return { kind: "midi", name: file.name, base64: toBase64(bytes) };
  if (isScore(bytes)) return { kind: "score", name: file.name, base64: toBase64(bytes) };
  return { kind: "text", name: file.name, text: new TextDecoder().decode(bytes) };
}

/**
 * What a text is that was pasted or dropped: a score pasted as text is one too.
 * @param {string} text @param {string} [name] @returns {Given}
 */
export function readText(text, name = "") {
  const bytes = text.trimStart()[0] === "<" ? new TextEncoder().encode(text) : null;
  return bytes ? { kind: "score", name, base64: toBase64(bytes) } : { kind: "text", name, text };
}

/**
 * The question that brings what was given; of all but a groove file only some bars may be taken.
 * @param {Given} given @param {string} [bars] "A-B", "" where the engine chooses
 */
export function questionOf(given, bars = "") {
  const { kind, name } = given;
  if (kind === "text") return { ask: "open", text: given.text, name, bars };
  return { ask: kind === "midi" ? "open_midi" : "open_score", name, base64: given.base64, bars };
}

/** @param {Uint8Array} bytes @returns {boolean} */
function isScore(bytes) {
  if (bytes[0] === 0x50 && bytes[1] === 0x4b) return true;
  return bytes[bytes.findIndex((byte) => !BEFORE.has(byte))] === 0x3c;
}

/**
 * Let files and text be dropped anywhere on the page.
 * @param {EventTarget} target
 * @param {{ over: (on: boolean) => void, file: (file: File) => void, text: (text: string) => void }} hear
 */
export function listenForDrops(target, hear) {
  target.addEventListener("dragover", (event) => {
    const { dataTransfer } = /** @type {DragEvent} */ (event);
    if (!dataTransfer || !takes(dataTransfer)) return;
    event.preventDefault();
    dataTransfer.dropEffect = "copy";
    hear.over(true);
  });
  target.addEventListener("dragleave", (event) => {
    if (/** @type {DragEvent} */ (event).relatedTarget === null) hear.over(false);
  });
  target.addEventListener("drop", (event) => {
    const { dataTransfer } = /** @type {DragEvent} */ (event);
    hear.over(false);
    if (!dataTransfer || !takes(dataTransfer)) return;
    event.preventDefault();
    const file = dataTransfer.files[0];
    const text = dataTransfer.getData("text/plain");
    if (file) hear.file(file);
    else if (text.trim()) hear.text(text);
  });
}

/** @param {DataTransfer} transfer @returns {boolean} */
function takes(transfer) {
  return transfer.types.includes("Files") || transfer.types.includes("text/plain");
}

/** @param {Uint8Array} bytes @returns {string} */
function toBase64(bytes) {
  let text = "";
  // In pieces: a call takes only so many arguments.
  for (let i = 0; i < bytes.length; i += 8192) text += String.fromCharCode(...bytes.subarray(i, i + 8192));
  return btoa(text);
}

/** @param {number} bytes @returns {string} */
function megabytes(bytes) {
  return (bytes / 1_000_000).toFixed(1);
}
