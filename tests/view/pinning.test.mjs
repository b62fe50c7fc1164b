import assert from "node:assert/strict";
import { test } from "node:test";
import { Pinning } from "../../web/view/pinning.js";

const limb = (limbs, letter, pinned = false) => ({ id: "0/snare@0", limb: limbs, letter, pinned, type: "" });
const stroke = (hand) => ({ id: "0/snare@0", hand });

test("a free stroke gets the other hand, then the one it had, then it is free again", () => {
  const pinning = new Pinning();
  pinning.learn([limb("left hand", "L")]);
  assert.equal(pinning.next(stroke(""), limb("left hand", "L")), "R");
  assert.equal(pinning.next(stroke("R"), limb("right hand", "R", true)), "L");
  assert.equal(pinning.next(stroke("L"), limb("left hand", "L", true)), "");
});

test("what the engine finds for a pinned stroke does not count as found", () => {
  const pinning = new Pinning();
  pinning.learn([limb("left hand", "L")]);
  pinning.learn([limb("right hand", "R", true)]);
  assert.equal(pinning.next(stroke("R"), limb("right hand", "R", true)), "L");
});

test("a stroke that came pinned is let free first", () => {
  assert.equal(new Pinning().next(stroke("L"), limb("left hand", "L", true)), "");
});

test("a foot is not pinned, and nothing is guessed before the engine has answered", () => {
  assert.equal(new Pinning().next(stroke(""), limb("right foot", "R")), null);
  assert.equal(new Pinning().next(stroke(""), undefined), null);
});
