import type { NeckMap } from "../reporting/hand-trace.js";
import { escapedText } from "./markup.js";

/** A piece of a neck with a grip on it. Seen as TAB is: string 1 on top, the nut on the left. */
export interface NeckView {
  readonly neck: NeckMap;
  /** Frets between which the neck is drawn: 0 begins at the nut. */
  readonly from: number;
  readonly to: number;
  readonly notes: readonly { readonly string: number; readonly fret: number; readonly finger: number }[];
  /** What each note is over its chord, in the order of the notes; may be shorter. */
  readonly degrees: readonly string[];
  /** Whether the last note is the melody, which has a form of its own. */
  readonly hasMelody: boolean;
  /** Whether degrees are written beside the dots, fret numbers below the neck. */
  readonly isNamed: boolean;
}

/** Drawn in millimetres; strings stand as far apart as at a nut that is a little wide. */
const STRING_MM = 9;
const TOP_MM = 6;
const NAMES_MM = 9;
const OPEN_MM = 8;
const DOT_MM = 4;
const MARKED_FRETS = [3, 5, 7, 9, 12, 15, 17, 19, 21, 24];

/** An SVG in millimetres of the neck. Colours are the surrounding text's; classes tell melody, dots and strings apart. */
export function neckPicture({ neck, from, to, notes, degrees, hasMelody, isNamed }: NeckView): string {
  const mm = (fret: number) =>
    fret <= 0 ? neck.nutMm : (neck.fretsMm[fret - 1] ?? neck.fretsMm.at(-1) ?? 0);
  const left = mm(from) - OPEN_MM;
  const right = mm(to) + 3;
  const y = (string: number) => TOP_MM + (string - 1) * STRING_MM;
  const bottom = y(neck.strings);
  const height = bottom + TOP_MM + (isNamed ? NAMES_MM : 0);
  const line = (
    name: string,
    [x1, y1, x2, y2]: readonly [number, number, number, number],
    width: number,
    more = "",
  ) =>
    `<line class="${name}" x1="${fixed(x1)}" y1="${fixed(y1)}" x2="${fixed(x2)}" y2="${fixed(y2)}" stroke="currentColor" stroke-width="${fixed(width)}"${more}/>`;
  const frets = range(from, to).map((fret) =>
    line(fret === 0 ? "neck-nut" : "neck-fret", [mm(fret), y(1), mm(fret), bottom], fret === 0 ? 2 : 0.6),
  );
  const strings = range(1, neck.strings).map((string) => {
    const isUsed = notes.some((note) => note.string === string);
    return line(
      isUsed ? "neck-string" : "neck-string unused",
      [mm(from), y(string), right, y(string)],
      0.35 + string * 0.12,
      isUsed ? "" : ' stroke-dasharray="1.5 2.5"',
    );
  });
  const names = isNamed
    ? range(Math.max(from + 1, 1), to)
        .filter((fret) => MARKED_FRETS.includes(fret) || to - from < 8)
        .map((fret) => text("neck-name", (mm(fret - 1) + mm(fret)) / 2, bottom + 11, 5.5, String(fret)))
    : [];
  const bars = barsOf(notes).map(({ fret, first, last }) => {
    const x = dotMm(mm, fret);
    return `<line class="neck-bar" x1="${fixed(x)}" y1="${y(first)}" x2="${fixed(x)}" y2="${y(last)}" stroke="currentColor" stroke-width="${DOT_MM * 2}" stroke-linecap="round"/>`;
  });
  const dots = notes.map(({ string, fret, finger }, index) => {
    const isMelody = hasMelody && index === notes.length - 1;
    const x = fret === 0 ? mm(0) - OPEN_MM / 2 : dotMm(mm, fret);
    const name = `neck-dot${isMelody ? " melody" : ""}${fret === 0 ? " open" : ""}`;
    const degree = degrees[index];
    return [
      dot(name, x, y(string), isMelody, fret === 0),
      fret === 0 ? "" : text("neck-finger", x, y(string) + 2, 5.6, finger === 0 ? "" : String(finger)),
      isNamed && degree !== undefined
        ? text("neck-degree", x + (isMelody ? 7.4 : 6.6), y(string) - 1.2, 4.8, degree, "start")
        : "",
    ].join("");
  });
  const content = [...frets, ...strings, ...bars, ...dots, ...names].join("");
  return `<svg xmlns="http://www.w3.org/2000/svg" class="neck-picture" viewBox="${fixed(left)} 0 ${fixed(right - left)} ${fixed(height)}" font-family="system-ui, sans-serif">${content}</svg>`;
}

/** Frets that show a grip and a little of the neck around it. */
export function fretsAround(
  notes: readonly { readonly fret: number }[],
  neck: NeckMap,
): { readonly from: number; readonly to: number } {
  const stopped = notes.map(({ fret }) => fret).filter((fret) => fret > 0);
  const lowest = Math.min(...stopped, neck.fretsMm.length);
  const highest = Math.max(...stopped, 1);
  const from = stopped.length === 0 || lowest <= 2 ? 0 : lowest - 1;
  return { from, to: Math.min(Math.max(highest + 1, from + 4), neck.fretsMm.length) };
}

const dotMm = (mm: (fret: number) => number, fret: number): number =>
  mm(fret) - Math.min((mm(fret) - mm(fret - 1)) / 2, 9);

function dot(name: string, x: number, y: number, isMelody: boolean, isOpen: boolean): string {
  const fill = isOpen ? `fill="none" stroke="currentColor" stroke-width="1"` : `fill="currentColor"`;
  if (!isMelody)
    return `<circle class="${name}" cx="${fixed(x)}" cy="${y}" r="${isOpen ? DOT_MM - 1.2 : DOT_MM}" ${fill}/>`;
  const r = isOpen ? DOT_MM - 0.4 : DOT_MM + 1.3;
  return `<path class="${name}" d="M${fixed(x)} ${fixed(y - r)} L${fixed(x + r)} ${y} L${fixed(x)} ${fixed(y + r)} L${fixed(x - r)} ${y} Z" ${fill}/>`;
}

const text = (name: string, x: number, y: number, size: number, content: string, anchor = "middle"): string =>
  `<text class="${name}" x="${fixed(x)}" y="${fixed(y)}" font-size="${size}" text-anchor="${anchor}" fill="${name === "neck-finger" ? "#fff" : "currentColor"}">${escapedText(content)}</text>`;

/** One finger on several strings at one fret. */
function barsOf(notes: NeckView["notes"]) {
  const stopped = notes.filter(({ fret, finger }) => fret > 0 && finger > 0);
  return [1, 2, 3, 4].flatMap((finger) => {
    const strings = stopped.filter((note) => note.finger === finger);
    const [first] = strings;
    return first === undefined || strings.length < 2
      ? []
      : [
          {
            fret: first.fret,
            first: Math.min(...strings.map(({ string }) => string)),
            last: Math.max(...strings.map(({ string }) => string)),
          },
        ];
  });
}

const range = (from: number, to: number): readonly number[] =>
  Array.from({ length: Math.max(to - from + 1, 0) }, (_, index) => from + index);

const fixed = (value: number): number => Math.round(value * 100) / 100;
