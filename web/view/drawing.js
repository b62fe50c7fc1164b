/**
 * A drawing that the engine wrote as SVG, made into an element of the page, if it holds nothing but a drawing.
 *
 * The text of a drawing holds what people wrote (titles, names of stages). It is read as XML, never as a page, and only
 * known elements with known attributes are let in, whose links lead into the drawing itself.
 */

const SVG = "http://www.w3.org/2000/svg";
const ELEMENTS = new Set(["svg", "title", "defs", "g", "path", "use", "text"]);
const ATTRIBUTES = new Set([
  "xmlns", "class", "role", "aria-labelledby", "width", "height", "viewBox", "fill", "id", "data-id", "d", "transform", "href", "x", "y",
  "font-family", "font-size", "font-weight", "text-anchor", "fill-opacity",
]);

/** Read a drawing; null where it is none. @param {string} text @returns {SVGSVGElement | null} */
export function readDrawing(text) {
  const root = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
  if (root.localName !== "svg" || ![root, ...root.querySelectorAll("*")].every(isKnown)) return null;
  return /** @type {any} */ (document.importNode(root, true));
}

/** @param {Element} element @returns {boolean} */
function isKnown(element) {
  if (element.namespaceURI !== SVG || !ELEMENTS.has(element.localName)) return false;
  return [...element.attributes].every(({ name, value }) => ATTRIBUTES.has(name) && (name !== "href" || value[0] === "#"));
}
