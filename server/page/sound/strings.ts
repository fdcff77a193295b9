import { pluckedString } from "undervoice";

/** One plucked note: when, how long a finger holds it, how loud. */
export interface Pluck {
  readonly midi: number;
  /** Seconds of the context's clock. */
  readonly at: number;
  readonly length: number;
  readonly gain: number;
}

/** The longest that a note sounds. */
const NOTE_SECONDS = 3.5;
const LET_GO_SECONDS = 0.06;

/** Strings that sound in a context, a real one or one that renders; each pitch is computed once. */
export function strings(on: BaseAudioContext): (target: AudioNode, pluck: Pluck) => void {
  const buffers = new Map<number, AudioBuffer>();

  function bufferOf(midi: number): AudioBuffer {
    const known = buffers.get(midi);
    if (known !== undefined) return known;
    const samples = pluckedString({ midi, seconds: NOTE_SECONDS, sampleRate: on.sampleRate });
    const buffer = on.createBuffer(1, samples.length, on.sampleRate);
    buffer.copyToChannel(samples as Float32Array<ArrayBuffer>, 0);
    buffers.set(midi, buffer);
    return buffer;
  }

  return (target, { midi, at, length, gain }) => {
    const until = at + Math.min(length, NOTE_SECONDS - LET_GO_SECONDS);
    const source = on.createBufferSource();
    source.buffer = bufferOf(midi);
    const hand = on.createGain();
    hand.gain.setValueAtTime(gain, at);
    hand.gain.setValueAtTime(gain, until);
    hand.gain.linearRampToValueAtTime(0, until + LET_GO_SECONDS);
    source.connect(hand).connect(target);
    source.start(at);
    source.stop(until + LET_GO_SECONDS);
  };
}
