/**
 * A field's text, drawn anew without taking it away from who is writing in it.
 *
 * Answers of the engine come while somebody types. A new text is always set. The same text again is set only where the
 * field is not the one being written in: what stands there then is not finished.
 */

import { noChange } from "lit";
import { Directive, directive } from "lit/directive.js";

class UnlessTyping extends Directive {
  /** @type {string | undefined} what was set last */
  #last = undefined;

  /** @param {string} text @returns {unknown} */
  render(text) {
    return text;
  }

  /** @param {import("lit/directive.js").Part} part @param {[string]} set @override */
  update(part, [text]) {
    const field = /** @type {HTMLInputElement} */ (/** @type {import("lit/directive.js").PropertyPart} */ (part).element);
    const root = /** @type {Document | ShadowRoot} */ (field.getRootNode());
    const typing = "activeElement" in root && root.activeElement === field;
    if ((text !== this.#last || !typing) && field.value !== text) field.value = text;
    this.#last = text;
    return noChange;
  }
}

/** Use it as a property: `.value=${unlessTyping(text)}`. */
export const unlessTyping = directive(UnlessTyping);
