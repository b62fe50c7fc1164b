/**
 * Records every frame that reaches it. Messages: {frame, lead, left, right}, a second or so each, in order.
 * Runs on the audio thread, so a blocked page loses nothing. Frames are counted from the first call; `lead` is the
 * greatest lead of `currentFrame` over this count so far, which is by how much the count began too low: under load
 * Chromium's `currentFrame` may stand still for a while, and is never ahead.
 */
const LENGTH = 32768;
const SILENCE = new Float32Array(128);

class Recorder extends AudioWorkletProcessor {
  #left = new Float32Array(LENGTH);
  #right = new Float32Array(LENGTH);
  #filled = 0;
  #next = -1;
  #lead = 0;

  process([input]) {
    if (this.#next < 0) this.#next = currentFrame;
    this.#lead = Math.max(this.#lead, currentFrame - this.#next);
    const left = input[0] ?? SILENCE;
    const right = input[1] ?? left;
    this.#next += left.length;
    this.#left.set(left, this.#filled);
    this.#right.set(right, this.#filled);
    this.#filled += left.length;
    if (this.#filled === LENGTH) {
      const message = { frame: this.#next - LENGTH, lead: this.#lead, left: this.#left, right: this.#right };
      this.port.postMessage(message, [message.left.buffer, message.right.buffer]);
      this.#left = new Float32Array(LENGTH);
      this.#right = new Float32Array(LENGTH);
      this.#filled = 0;
    }
    return true;
  }
}

registerProcessor("recorder", Recorder);
