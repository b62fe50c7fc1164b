/**
 * The shapes that the drawing reads, by the names that it uses: the engine's messages, as the protocol defines them.
 *
 * Types only. Places (`at`) are whole ticks from the start of the cycle; `origin` and `changed_by` are stage numbers;
 * stage 0 is the base beat. Pictures are in CSS pixels, y downwards.
 *
 * @typedef {import("../protocol/messages.js").ViewReply} View
 * @typedef {import("../protocol/messages.js").StageInfo} Stage
 * @typedef {import("../protocol/messages.js").StrokeInfo} Stroke
 * @typedef {import("../protocol/messages.js").ThreadInfo} Thread
 * @typedef {import("../protocol/messages.js").GridPlace} Column
 * @typedef {import("../protocol/messages.js").TimelineReply} Timeline
 * @typedef {import("../protocol/messages.js").PlayingReply} Playing
 * @typedef {import("../protocol/messages.js").LimbInfo} Limb
 * @typedef {import("../protocol/messages.js").SpotInfo} Spot
 * @typedef {import("../protocol/messages.js").HomeInfo} Home
 */
export {};
