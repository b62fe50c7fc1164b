/**
 * Records every frame that reaches it. Messages: {frame, left, right}, a second or so each, in order.
 * Runs on the audio thread, so a blocked page loses nothing.
 */
const LENGTH = 32768;

class Recorder extends AudioWorkletProcessor {
  #left = new Float32Array(LENGTH);
  #right = new Float32Array(LENGTH);
  #filled = 0;
  #start = 0;

  process([input]) {
    if (input.length === 0) return true;
    const [left, right = left] = input;
    if (this.#filled === 0) this.#start = currentFrame;
    this.#left.set(left, this.#filled);
    this.#right.set(right, this.#filled);
    this.#filled += left.length;
    if (this.#filled === LENGTH) {
      const message = { frame: this.#start, left: this.#left, right: this.#right };
      this.port.postMessage(message, [message.left.buffer, message.right.buffer]);
      this.#left = new Float32Array(LENGTH);
      this.#right = new Float32Array(LENGTH);
      this.#filled = 0;
    }
    return true;
  }
}

registerProcessor("recorder", Recorder);
