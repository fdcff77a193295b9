/**
 * Signs that move the cursor, colour the screen or turn the direction of writing: C0 and C1 controls, line and
 * paragraph separators, the bidirectional controls (Unicode 16, chapters 23.1 and 23.2).
 */
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
const CONTROLS = /[\u0000-\u001f\u007f-\u009f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069]/g;

const SHORT: Readonly<Record<string, string>> = { "\n": "\\n", "\r": "\\r", "\t": "\\t" };

/** A text from a file as one line for a person: signs that nobody sees are written as "\n" or "\u001b". */
export const oneLine = (text: string): string =>
  text.replace(
    CONTROLS,
    (sign) => SHORT[sign] ?? `\\u${(sign.codePointAt(0) ?? 0).toString(16).padStart(4, "0")}`,
  );
