/**
 * What a number in a score may be. Everything past these limits is no music, and would cost time or memory
 * without bound if it were believed.
 */
export interface NumberLimit {
  /** whole: 3; decimal: 0.5; sum: 3+2; list: 1, 2 or 1-3. */
  readonly form: "whole" | "decimal" | "sum" | "list";
  readonly least: number;
  readonly most: number;
  /** Said by whoever reads it, with words of its own, where it cannot be read. */
  readonly isSaidByReader?: true;
}

const whole = (least: number, most: number): NumberLimit => ({ form: "whole", least, most });
const decimal = (least: number, most: number): NumberLimit => ({ form: "decimal", least, most });
const saidByReader = (limit: NumberLimit): NumberLimit => ({ ...limit, isSaidByReader: true });

/** The largest accidental of MusicXML 4.0 is the triple sharp (accidental-value). */
const ALTERATION = decimal(-3, 3);

/** Strings of the instruments that the options allow, twice over. */
const MOST_STRINGS = 24;

/**
 * Every number that is read from a score, by the name of its element, or of element and attribute. Where the
 * type in the MusicXML 4.0 schema has limits they stand here (octave, numeral-root, midi-channel, beam@number); the
 * others are from memory: beyond anything notated, and harmless.
 */
export const NUMBER_LIMITS = {
  octave: saidByReader(whole(0, 9)),
  alter: ALTERATION,
  fifths: whole(-14, 14),
  "key-alter": ALTERATION,
  chromatic: decimal(-60, 60),
  diatonic: decimal(-35, 35),
  "octave-change": decimal(-5, 5),

  // Where a symbol is drawn decides only which of two is meant first; a wrong one harms nobody.
  "harmony@relative-x": saidByReader(decimal(-100_000, 100_000)),
  "root-alter": ALTERATION,
  "bass-alter": ALTERATION,
  inversion: whole(0, 6),
  "degree-value": saidByReader(whole(1, 13)),
  "degree-alter": saidByReader(ALTERATION),
  "numeral-root": saidByReader(whole(1, 7)),
  "numeral-alter": ALTERATION,
  "numeral-fifths": whole(-14, 14),

  divisions: decimal(0.001, 1e9),
  duration: saidByReader(decimal(0, 1e12)),
  offset: decimal(-1e12, 1e12),
  beats: { form: "sum", least: 1, most: 256 },
  "beat-type": { form: "sum", least: 1, most: 1024 },
  "actual-notes": whole(1, 1024),
  "normal-notes": whole(1, 1024),
  "sound@tempo": decimal(1, 1000),
  "per-minute": decimal(1, 1000),
  "measure-repeat": whole(1, 64),
  "repeat@times": whole(1, 99),
  "ending@number": { form: "list", least: 1, most: 99 },

  string: saidByReader(whole(1, MOST_STRINGS)),
  fret: saidByReader(whole(0, 48)),
  fingering: saidByReader(whole(0, 5)),
  capo: whole(0, 24),
  "staff-lines": whole(0, MOST_STRINGS),
  "staff-tuning@line": whole(1, MOST_STRINGS),
  "tuning-octave": whole(0, 9),
  "tuning-alter": ALTERATION,

  "beam@number": saidByReader(whole(1, 8)),
  "midi-channel": saidByReader(whole(1, 16)),
} as const satisfies Readonly<Record<string, NumberLimit>>;
export type NumberName = keyof typeof NUMBER_LIMITS;

/** A note with more dots than this has no length that anybody would count. */
export const MOST_DOTS_READ = 4;
