import { deflated, joined } from "./deflate.js";
import { crc32 } from "./zip-checksums.js";

/** A file to be put into a zip. */
export interface ZippedFile {
  readonly name: string;
  readonly bytes: Uint8Array;
  /** Whether it is put in as it is; else it is compressed. */
  readonly isStored?: boolean;
}

/** APPNOTE.TXT 6.3.10, 4.3.7, 4.3.12 and 4.3.16: signatures and sizes of what is written here. */
const LOCAL = { signature: 0x04034b50, bytes: 30 };
const ENTRY = { signature: 0x02014b50, bytes: 46 };
const END = { signature: 0x06054b50, bytes: 22 };

/** The version that deflated entries need, and the flag that a name is UTF-8: 4.4.3.2, appendix D. */
const VERSION_NEEDED = 20;
const UTF8_NAME = 0x800;

const STORED = 0;
const DEFLATED = 8;

/** 1 January 1980, 0:00, as 4.4.6 has it. One date for all, so that the same score gives the same bytes. */
const DATE = (1 << 5) | 1;

/** A zip with these files in this order. Sizes stand before each file, so that it can be read as it comes. */
export function zipOf(files: readonly ZippedFile[]): Uint8Array {
  const pieces: Uint8Array[] = [];
  const directory: Uint8Array[] = [];
  let at = 0;
  const put = (piece: Uint8Array) => {
    pieces.push(piece);
    at += piece.length;
  };
  for (const { name, bytes, isStored = false } of files) {
    const nameBytes = new TextEncoder().encode(name);
    const packed = isStored ? bytes : deflated(bytes);
    const facts = [
      [2, VERSION_NEEDED],
      [2, nameBytes.length === name.length ? 0 : UTF8_NAME],
      [2, isStored ? STORED : DEFLATED],
      [2, 0],
      [2, DATE],
      [4, crc32(bytes)],
      [4, packed.length],
      [4, bytes.length],
    ] as const;
    const ownName = [2, nameBytes.length] as const;
    directory.push(
      record(ENTRY, [[2, VERSION_NEEDED], ...facts, ownName, ...nothing(12), [4, at]]),
      nameBytes,
    );
    put(record(LOCAL, [...facts, ownName, ...nothing(2)]));
    put(nameBytes);
    put(packed);
  }
  const start = at;
  for (const piece of directory) put(piece);
  const count = [2, files.length] as const;
  put(record(END, [...nothing(4), count, count, [4, at - start], [4, start], ...nothing(2)]));
  return joined(pieces);
}

type Field = readonly [bytes: 2 | 4, value: number];

/** Fields that say nothing: no comment, no extra field, no attributes, no other disk. */
const nothing = (bytes: number): readonly Field[] => Array.from({ length: bytes / 2 }, () => [2, 0]);

/** Little-endian, after the signature. */
function record(kind: { signature: number; bytes: number }, fields: readonly Field[]): Uint8Array {
  const bytes = new Uint8Array(kind.bytes);
  const view = new DataView(bytes.buffer);
  view.setUint32(0, kind.signature, true);
  let at = 4;
  for (const [size, value] of fields) {
    if (size === 2) view.setUint16(at, value, true);
    else view.setUint32(at, value, true);
    at += size;
  }
  return bytes;
}
