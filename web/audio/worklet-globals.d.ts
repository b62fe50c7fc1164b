// What an audio thread's program finds in its global scope (Web Audio API, "AudioWorkletGlobalScope").
// TypeScript's DOM library leaves these out.

declare const currentFrame: number;
declare const sampleRate: number;

declare class AudioWorkletProcessor {
  constructor(options?: AudioWorkletNodeOptions);
  readonly port: MessagePort;
}

declare function registerProcessor(
  name: string,
  processor: new (options: AudioWorkletNodeOptions) => AudioWorkletProcessor,
): void;

// Audio Session API (W3C draft), so far in Safari only.
interface Navigator {
  readonly audioSession?: { type: string };
}
