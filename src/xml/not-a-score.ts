import { ScoreError } from "../diagnostics.js";

/** How files of other kinds begin, from their own specifications. */
const BEGINNINGS: readonly (readonly [what: string, begins: readonly (number | string)[]])[] = [
  ["a picture (PNG)", [0x89, "PNG"]],
  ["a picture (JPEG)", [0xff, 0xd8, 0xff]],
  ["a picture (GIF)", ["GIF8"]],
  ["a picture (TIFF)", ["II*", 0]],
  ["a picture (TIFF)", ["MM", 0, "*"]],
  ["a PDF document", ["%PDF"]],
  ["a MIDI file", ["MThd"]],
  ["a sound or film file", ["RIFF"]],
  ["a sound file", ["ID3"]],
  ["a sound file", ["OggS"]],
  ["a sound file", ["fLaC"]],
  ["a compressed file (gzip)", [0x1f, 0x8b]],
  ["an office document of the old kind", [0xd0, 0xcf, 0x11, 0xe0]],
  ["a program", [0x7f, "ELF"]],
  ["a program", ["MZ"]],
];

/**
 * Refuses a file that is plainly something else: by how it begins, or because it holds no text at all. What
 * begins as XML may still be none; that is said where it is read.
 *
 * @throws ScoreError "not-a-score"
 */
export function refuseOtherFiles(bytes: Uint8Array): void {
  const known = BEGINNINGS.find(([, begins]) => startsWith(bytes, begins))?.[0];
  const what = known ?? (isBinary(bytes) ? "some other kind of file, with no text in it" : undefined);
  if (what === undefined) return;
  throw new ScoreError({
    rule: "not-a-score",
    place: {},
    found: what,
    expected: "a MusicXML file: .musicxml, .xml or .mxl",
    message: `This is not a score but ${what}.`,
    hint: "Export the score from your notation program as MusicXML.",
  });
}

function startsWith(bytes: Uint8Array, begins: readonly (number | string)[]): boolean {
  const expected = begins.flatMap((piece) =>
    typeof piece === "number" ? [piece] : [...piece].map((sign) => sign.charCodeAt(0)),
  );
  return expected.every((byte, index) => bytes[index] === byte);
}

/** Control characters that no text has, in the first bytes; UTF-16 has nulls, but is told by its mark or a `<`. */
function isBinary(bytes: Uint8Array): boolean {
  const head = bytes.subarray(0, 512);
  if ((bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff)) return false;
  if (head.includes(0x3c)) return false;
  return head.some((byte) => byte < 0x09 || (byte > 0x0d && byte < 0x20));
}
