import { extname } from "node:path";

/** What a guitar score's name ends in, before its extension. */
export const GUITAR_SUFFIX = "-guitar";

/** Extensions of what is arranged. */
const SCORE_EXTENSIONS = [".musicxml", ".xml", ".mxl"];

/** A name at most, in signs and in bytes of UTF-8: more than a title needs, less than any file system allows. */
const LONGEST_NAME = { signs: 120, bytes: 240 };

/** Names of devices on Windows, whatever stands behind the first dot. */
const DEVICE = /^(con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³])(?=$|\.)/i;

/** Signs that some file system gives a meaning of its own. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
const RESERVED = /[<>:"/\\|?*\u0000-\u001f\u007f]/g;

/** Whether a file of this name is looked at: a score, and neither hidden nor a program's temporary file. */
export const isScoreName = (name: string): boolean =>
  SCORE_EXTENSIONS.includes(extname(name).toLowerCase()) && !/^[.~]/.test(name);

/** "Tune-guitar" of "Tune-guitar.musicxml". */
export const stemOf = (name: string): string => name.slice(0, name.length - extname(name).length);

export const hasGuitarSuffix = (name: string): boolean =>
  stemOf(name).normalize("NFC").toLowerCase().endsWith(GUITAR_SUFFIX);

/**
 * Name of the guitar score made of a score: the input's own with the suffix, in a form that every file
 * system takes. A guitar score that comes back to be arranged again keeps its name.
 */
export function outputNameFor(name: string, wish: { isCompressed: boolean; isGuitarScore: boolean }): string {
  const stem = wish.isGuitarScore ? stemOf(name).slice(0, -GUITAR_SUFFIX.length) : stemOf(name);
  const extension = wish.isCompressed ? ".mxl" : ".musicxml";
  return portable(stem, `${GUITAR_SUFFIX}${extension}`);
}

/** Name of the note that says why a score was not arranged. */
export function noteNameFor(name: string): string {
  return portable(stemOf(name), `${extname(name)}.note.txt`);
}

/** Two names are one file on a file system that does not tell capitals from small letters. */
export const sameFileKey = (name: string): string => name.normalize("NFC").toLowerCase();

/** A stem and an ending as a name that every file system takes. */
function portable(stem: string, ending: string): string {
  const plain = stem.normalize("NFC").replace(RESERVED, "_").replace(DEVICE, "$1_");
  const short = beginningOf(plain, LONGEST_NAME.signs - ending.length, LONGEST_NAME.bytes - ending.length);
  // A blank or dot at either end is lost, or hides the file.
  const trimmed = short.replace(/^[\s.]+|[\s.]+$/g, "");
  return `${trimmed === "" ? "score" : trimmed}${ending}`;
}

function beginningOf(text: string, signs: number, bytes: number): string {
  let beginning = "";
  for (const sign of [...text].slice(0, signs)) {
    if (Buffer.byteLength(beginning + sign) > bytes) break;
    beginning += sign;
  }
  return beginning;
}
