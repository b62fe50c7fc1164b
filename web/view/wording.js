/**
 * How the page calls the settings of a variation, where the sentence itself does not: beside a list, and on the
 * buttons for what the sentence leaves unsaid. A setting that is not known here goes by its own name.
 */

/** @type {Record<string, string>} */
const LABELS = {
  surface: "what is meant",
  at: "the places",
  by: "how far, and which way",
  except: "the places left out",
  dynamic: "how loud",
  grace: "the ornament",
  "clear-of": "what must be silent there",
  cell: "the pattern",
  restart: "where it begins anew",
  to: "where it is played",
  then: "some of it elsewhere",
  "then.at": "which of them",
  "then.to": "where those are played",
  changes: "the changes by hand",
};

/** @type {Record<string, string>} */
const UNSAID = {
  except: "leave some places out",
  grace: "with an ornament",
  "clear-of": "keep clear of other lines",
  restart: "begin anew in every bar",
  then: "some of it elsewhere",
};

/** @type {Record<string, string>} */
const EXAMPLES = {
  at: "Such as 2 4, e a, 2:3&, first backbeat, upbeats free.",
  "then.at": "Such as beats, 2 4, first 1.",
  except: "Such as 4a, or 2 4.",
  by: "Such as 1/16 later, 3/8 earlier.",
  cell: "Such as eighth sixteenth sixteenth, quarter rest eighth.",
  changes: "One change a line: + snare 3a ghost, - kick 2&, = snare 2 accent L.",
};

/** What a setting is about. @param {string} setting @returns {string} */
export function labelOf(setting) {
  return LABELS[setting] ?? setting;
}

/** What a button says that brings up a setting which the sentence leaves unsaid. @param {string} setting @returns {string} */
export function unsaidOf(setting) {
  return UNSAID[setting] ?? labelOf(setting);
}

/** How a value may be written. @param {string} setting @returns {string} */
export function exampleOf(setting) {
  return EXAMPLES[setting] ?? "";
}
