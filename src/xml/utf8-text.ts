/** Bytes that there is room for at first, and the most that is kept for the next text. */
const FIRST_ROOM = 2 ** 16;
const KEPT_ROOM = 2 ** 20;

/** A sign of UTF-16 is at most so many bytes of UTF-8. */
const BYTES_EACH = 3;

/** From here on a sign is more than one byte. */
const BEYOND_ASCII = 0x80;

/** Room that a text before had: a system takes longer to hand out fresh memory than a score to be written. */
let kept: Uint8Array | undefined;

/**
 * A text that grows, as UTF-8. Nearly all of a score is ASCII, written sign by sign where it belongs: strings put
 * together first and encoded in the end are copied twice and leave millions of pieces behind.
 */
export class Utf8Text {
  #room = kept ?? new Uint8Array(FIRST_ROOM);
  #length = 0;

  constructor() {
    kept = undefined;
  }

  add(text: string): void {
    if (this.#length + text.length * BYTES_EACH > this.#room.length) this.#grow(text.length * BYTES_EACH);
    const room = this.#room;
    let length = this.#length;
    for (let at = 0; at < text.length; at += 1) {
      const code = text.charCodeAt(at);
      if (code >= BEYOND_ASCII) {
        length += new TextEncoder().encodeInto(text.slice(at), room.subarray(length)).written;
        break;
      }
      room[length] = code;
      length += 1;
    }
    this.#length = length;
  }

  /** What was written; nothing is added any more. */
  end(): Uint8Array<ArrayBuffer> {
    const bytes = this.#room.slice(0, this.#length);
    if (this.#room.length <= KEPT_ROOM) kept = this.#room;
    return bytes;
  }

  #grow(more: number): void {
    const room = new Uint8Array(Math.max(this.#room.length * 2, this.#length + more));
    room.set(this.#room);
    this.#room = room;
  }
}
