// Takes the microphone's samples as they are and hands them on in blocks, each with the number of its first frame
// (src/platform/microphone.rs).
"use strict";
class Tap extends AudioWorkletProcessor {
  constructor() {
    super();
    this.begin();
  }

  begin() {
    this.block = new Float32Array(4096);
    this.filled = 0;
  }

  process([[samples] = []]) {
    if (this.filled === 0) this.first = currentFrame;
    if (samples) this.block.set(samples, this.filled);
    this.filled += 128;
    if (this.filled === this.block.length) {
      this.port.postMessage([this.first, this.block], [this.block.buffer]);
      this.begin();
    }
    return true;
  }
}
registerProcessor("tap", Tap);
