import { zlib } from "./deflate.js";

/** CRC-32 by bytes: polynomial 0xEDB88320, APPNOTE.TXT 6.3.10, 4.4.7. */
const CRC_TABLE = Uint32Array.from({ length: 256 }, (_, byte) => {
  let remainder = byte;
  for (let bit = 0; bit < 8; bit += 1)
    remainder = remainder & 1 ? (remainder >>> 1) ^ 0xedb88320 : remainder >>> 1;
  return remainder;
});

/** The checksum that a zip keeps of every file in it. */
export const crc32 = (bytes: Uint8Array): number => zlib()?.crc32?.(bytes) ?? crc32Here(bytes);

function crc32Here(bytes: Uint8Array): number {
  let crc = 0xffffffff;
  for (const byte of bytes) crc = (crc >>> 8) ^ (CRC_TABLE[(crc ^ byte) & 0xff] ?? 0);
  return (crc ^ 0xffffffff) >>> 0;
}

/** APPNOTE.TXT 6.3.10, 4.3.12 and 4.3.16: signatures, sizes and places of what is read here. */
const END_SIGNATURE = 0x06054b50;
const END_BYTES = 22;
const LONGEST_COMMENT = 65_535;
const ENTRY_SIGNATURE = 0x02014b50;
const ENTRY_BYTES = 46;

/**
 * Checksums in a zip's directory, in its order, folders included. Empty where
 * the directory is not where the zip's end says, as in zips of more than 4 GB.
 */
export function statedChecksums(bytes: Uint8Array): readonly number[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let end = bytes.length - END_BYTES;
  const first = Math.max(0, end - LONGEST_COMMENT);
  while (end >= first && view.getUint32(end, true) !== END_SIGNATURE) end -= 1;
  if (end < first) return [];
  const checksums: number[] = [];
  let at = view.getUint32(end + 16, true);
  while (at + ENTRY_BYTES <= end && view.getUint32(at, true) === ENTRY_SIGNATURE) {
    checksums.push(view.getUint32(at + 16, true));
    at +=
      ENTRY_BYTES +
      view.getUint16(at + 28, true) +
      view.getUint16(at + 30, true) +
      view.getUint16(at + 32, true);
  }
  return checksums;
}
