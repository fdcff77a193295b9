import { type Finding, ScoreError } from "../diagnostics.js";

const DECLARATION = /^<\?xml\s[^>]*?encoding\s*=\s*(?:"([^"]*)"|'([^']*)')/;

/** The text of an XML file and what was odd about its encoding. */
export interface DecodedText {
  /** Without byte order mark; a declared encoding other than UTF-8 is rewritten, as the text is written in that. */
  readonly text: string;
  readonly warnings: readonly Finding[];
}

/**
 * Bytes to text: a byte order mark decides, then the shape of the first bytes, then the declaration.
 *
 * @throws ScoreError "encoding-invalid" with the offset of the first byte that does not fit;
 *   "encoding-unknown" for a label nobody knows
 */
export function decodeText(bytes: Uint8Array): DecodedText {
  const warnings: Finding[] = [];
  const bom = byteOrderMark(bytes);
  const body = bytes.subarray(bom?.length ?? 0);
  const shaped = bom?.encoding ?? encodingByShape(body);
  const head = new TextDecoder(shaped ?? "iso-8859-1").decode(body.subarray(0, 400)).trimStart();
  const match = DECLARATION.exec(head);
  const label = (match?.[1] ?? match?.[2] ?? "").trim();
  const encoding = shaped ?? encodingByLabel(label, warnings);
  if (bom !== undefined && label !== "" && !agrees(label, bom.encoding))
    warnings.push(labelContradicts(label, bom.encoding));
  const whole = decodeStrictly(body, encoding, (offset) => {
    if (bom !== undefined || encoding !== "utf-8" || !isSingleByte(body)) return undefined;
    warnings.push(readAsOldWestern(offset));
    return new TextDecoder(OLD_WESTERN).decode(body);
  });
  const trimmed = whole.trimStart();
  if (trimmed !== whole && trimmed.startsWith("<?xml")) warnings.push(blankBeforeDeclaration);
  const text = trimmed.startsWith("<?xml")
    ? trimmed.replace(DECLARATION, (declaration) =>
        /utf-?8["']$/i.test(declaration)
          ? declaration
          : declaration.replace(/(["'])[^"']*\1$/, (_, quote) => `${quote}UTF-8${quote}`),
      )
    : trimmed;
  return { text, warnings };
}

type Unicode = "utf-8" | "utf-16le" | "utf-16be";

function byteOrderMark(
  bytes: Uint8Array,
): { readonly encoding: Unicode; readonly length: number } | undefined {
  if (bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf) return { encoding: "utf-8", length: 3 };
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return { encoding: "utf-16le", length: 2 };
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return { encoding: "utf-16be", length: 2 };
  return undefined;
}

/** Without a mark, a null beside the first sign gives UTF-16 away. */
function encodingByShape(bytes: Uint8Array): Unicode | undefined {
  if (bytes[0] !== 0 && bytes[1] === 0) return "utf-16le";
  if (bytes[0] === 0 && bytes[1] !== 0 && bytes.length > 1) return "utf-16be";
  return undefined;
}

function encodingByLabel(label: string, warnings: Finding[]): string {
  if (label === "") return "utf-8";
  // The declaration could be read a byte a sign, so two-byte code it cannot be.
  if (/^(utf-?16|utf-?32|ucs-?[24]|iso-10646)/i.test(label)) {
    warnings.push(labelContradicts(label, "utf-8"));
    return "utf-8";
  }
  try {
    return new TextDecoder(label).encoding;
  } catch {
    throw new ScoreError({
      rule: "encoding-unknown",
      place: { line: 1, column: 1 },
      found: `the encoding "${label}"`,
      expected: "UTF-8, UTF-16 or ISO-8859-1",
      message: `The file says it is written in "${label}", an encoding that is not known.`,
      hint: "Export it again as UTF-8.",
    });
  }
}

/** Latin-1 with the signs that Windows put where Latin-1 has none. */
const OLD_WESTERN = "windows-1252";

/**
 * Whether bytes beyond ASCII are letters of one byte each: none of them makes UTF-8 with its neighbours,
 * hardly any has one beside it (two-byte scripts come in runs), and all stand for letters or signs of print.
 */
function isSingleByte(bytes: Uint8Array): boolean {
  let beyond = 0;
  let beside = 0;
  for (let at = 0; at < bytes.length; at += 1) {
    const byte = bytes[at] ?? 0;
    if (byte < 0x80) continue;
    const next = bytes[at + 1] ?? 0;
    if (byte >= 0xc2 && byte <= 0xf4 && next >= 0x80 && next <= 0xbf) return false;
    if ([0x81, 0x8d, 0x8f, 0x90, 0x9d].includes(byte)) return false;
    beyond += 1;
    if (next >= 0x80) beside += 1;
  }
  return beyond > 0 && beside * 4 <= beyond;
}

const agrees = (label: string, encoding: Unicode): boolean =>
  encoding === "utf-8" ? /^utf-?8$/i.test(label) : /^utf-?16/i.test(label);

/** @param otherwise what the text is where a byte does not fit; undefined makes that an error */
function decodeStrictly(
  bytes: Uint8Array,
  encoding: string,
  otherwise: (offset: number) => string | undefined,
): string {
  try {
    return new TextDecoder(encoding, { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    const offset = firstInvalidByte(bytes, encoding);
    const text = otherwise(offset);
    if (text !== undefined) return text;
    const found = `0x${(bytes[offset] ?? 0).toString(16).toUpperCase().padStart(2, "0")}`;
    throw new ScoreError({
      rule: "encoding-invalid",
      place: {},
      found: `byte ${found} at offset ${offset}`,
      expected: `${encoding.toUpperCase()} throughout`,
      message: `Byte ${found} at offset ${offset} is not ${encoding.toUpperCase()}, which the file is taken to be.`,
      hint: "Export it again as UTF-8, or correct the encoding it declares.",
    });
  }
}

/**
 * Where the longest beginning that decodes ends, found by halving: what fails in the middle fails for
 * good. A sequence of several bytes that breaks off counts from its first.
 */
function firstInvalidByte(bytes: Uint8Array, encoding: string): number {
  const decodes = (length: number, isOpenEnded: boolean) => {
    try {
      new TextDecoder(encoding, { fatal: true }).decode(bytes.subarray(0, length), { stream: isOpenEnded });
      return true;
    } catch {
      return false;
    }
  };
  let good = 0;
  let bad = bytes.length + 1;
  while (bad - good > 1) {
    const middle = (good + bad) >> 1;
    if (decodes(middle, true)) good = middle;
    else bad = middle;
  }
  while (good > 0 && !decodes(good, false)) good -= 1;
  return good;
}

const labelContradicts = (label: string, encoding: string): Finding => ({
  rule: "encoding-label",
  severity: "warning",
  place: { line: 1, column: 1 },
  found: `the encoding "${label}"`,
  expected: encoding.toUpperCase(),
  message: `The file says it is written in "${label}" but is ${encoding.toUpperCase()}; read as that.`,
});

const readAsOldWestern = (offset: number): Finding => ({
  rule: "encoding-label",
  severity: "warning",
  place: {},
  found: `a byte at offset ${offset} that is not UTF-8`,
  expected: "UTF-8",
  message: `The file does not say so, but is written in Latin-1 (first at byte ${offset}); read as that.`,
});

const blankBeforeDeclaration: Finding = {
  rule: "blank-before-declaration",
  severity: "warning",
  place: { line: 1, column: 1 },
  found: "blanks before the XML declaration",
  expected: "the declaration first",
  message: "Blanks stand before the XML declaration; they were skipped.",
};
