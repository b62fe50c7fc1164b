/**
 * What can become of a question besides an answer, and what is said about an engine that does not run.
 *
 * Codes are stable; a message is one or two sentences for a person: what happened and what to do.
 */

const SAYS = {
  "engine.no-worker":
    "The engine cannot start here: the browser allows no worker in this frame. Open the page in a tab of its own.",
  "engine.wasm-blocked":
    "The engine cannot start: WebAssembly is blocked by the browser or by the site's policy. Allow it for this site, " +
    "or use another browser.",
  "engine.stalled": "The engine has not started. Check the connection, then try again.",
  "engine.network": "A part of the engine did not arrive. Check the connection, then try again.",
  "engine.crashed": "The engine stopped. What you see is kept; it starts again.",
  "engine.too-slow": "The engine took too long over this and was started again.",
  "engine.died-twice": "The engine stopped twice. Reload the page; your groove is in its address.",
  "engine.broken": "The engine has a fault of its own. Please report it.",
  "engine.closed": "The engine has been closed.",
};
/** Faults that a second try can't mend. */
export const FINAL = new Set(["engine.no-worker", "engine.wasm-blocked", "engine.broken"]);

/** The engine read the question and says why it can't be done. `field` names what is at fault ("" if nothing). */
export class EngineRefusal extends Error {
  /** @param {{ code: string, message: string, field?: string | null }} refused */
  constructor(refused) {
    super(refused.message);
    this.name = "EngineRefusal";
    this.code = refused.code;
    this.field = refused.field ?? "";
  }
}

/** The worker died over the question, or there is none. The same question may be asked again. */
export class EngineLost extends Error {
  /** @param {string} code @param {string} message */
  constructor(code, message) {
    super(message);
    this.name = "EngineLost";
    this.code = code;
  }
}

/** A newer question of the same lane made this one pointless. Nothing to show. */
export class EngineOvertaken extends Error {
  constructor() {
    super("overtaken by a newer question");
    this.name = "EngineOvertaken";
    this.code = "engine.overtaken";
  }
}

/** What is said about a code. @param {string} code @returns {string} */
export function sayingOf(code) {
  return /** @type {Record<string, string>} */ (SAYS)[code] ?? SAYS["engine.crashed"];
}
