/** Bytes that there is room for at first, and the most that is kept for the next text. */
const FIRST_ROOM = 2 ** 16;
const KEPT_ROOM = 2 ** 20;

/** A sign of UTF-16 is at most so many bytes of UTF-8. */
const BYTES_EACH = 3;

/** Signs that are encoded together: few enough to be put together while they are near at hand. */
const SIGNS_TOGETHER = 2 ** 12;

const ENCODER = new TextEncoder();

/** Room that a text before had: a system takes longer to hand out fresh memory than a score to be written. */
let kept: Uint8Array | undefined;

/**
 * A text that grows, as UTF-8, encoded piece by piece where it belongs: put together as one text first, it would be copied
 * twice. The engine encodes each piece; a loop of our own, sign by sign, took three times as long in a process that had
 * read or arranged a few scores before (measured with Node 20; what slows it is not known).
 */
export class Utf8Text {
  #room = kept ?? new Uint8Array(FIRST_ROOM);
  #length = 0;
  #waiting = "";

  constructor() {
    kept = undefined;
  }

  add(text: string): void {
    this.#waiting += text;
    if (this.#waiting.length > SIGNS_TOGETHER) this.#encode();
  }

  /** What was written; nothing is added any more. */
  end(): Uint8Array<ArrayBuffer> {
    this.#encode();
    const bytes = this.#room.slice(0, this.#length);
    if (this.#room.length <= KEPT_ROOM) kept = this.#room;
    return bytes;
  }

  #encode(): void {
    const most = this.#waiting.length * BYTES_EACH;
    if (this.#length + most > this.#room.length) this.#grow(most);
    this.#length += ENCODER.encodeInto(this.#waiting, this.#room.subarray(this.#length)).written;
    this.#waiting = "";
  }

  #grow(more: number): void {
    const room = new Uint8Array(Math.max(this.#room.length * 2, this.#length + more));
    room.set(this.#room);
    this.#room = room;
  }
}
