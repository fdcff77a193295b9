import type { ChordSymbol } from "../song/chord-symbol.js";
import type { PitchName } from "../song/pitch.js";
import { type ChordNames, ENGLISH, noteNamed, rootReadings } from "./chord-names.js";
import { type ChordPlan, NO_PLAN, planSymbol } from "./chord-plan.js";
import { plainChordText } from "./chord-signs.js";

/** A symbol without its root and bass. */
export type ChordQuality = Pick<ChordSymbol, "kind" | "degrees">;

/**
 * Reads a chord symbol as lead sheets print them: "Bbmaj7", "F#m7b5/C", "G13sus", "N.C.". Signs and
 * glyphs for flat, sharp, major, diminished are understood. Undefined for anything else: the whole text
 * must be a symbol.
 *
 * @param names how roots are called
 */
export function parseChordText(
  text: string,
  names: ChordNames = ENGLISH,
): ChordSymbol | "no-chord" | undefined {
  const plain = plainChordText(text);
  if (/^(n\.? ?c\.?|no ?chord)$/i.test(plain)) return "no-chord";
  for (const { root, rest, isSmall } of rootReadings(plain, names)) {
    if (isSmall && names.small === "none") continue;
    const { suffix, bass } = splitBass(rest, names);
    const quality =
      isSmall && names.small === "minor" ? smallQuality(suffix) : parseSuffix(inOurWords(suffix, names));
    if (quality !== undefined) return { root, ...quality, bass };
  }
  return undefined;
}

/** Reads what stands after the root: "m7", "7(b9,#11)", "maj7"; the empty text is a major triad. */
export const parseChordSuffix = (text: string): ChordQuality | undefined => parseSuffix(plainChordText(text));

/** What a small root begins is minor, unless the suffix says otherwise: "d7", but "ddim", "d+", "dsus4". */
const smallQuality = (suffix: string): ChordQuality | undefined =>
  /^(?:m(?!aj)|-|dim|o|hdim|\+|aug|sus|5|maj|M)/.test(suffix)
    ? parseSuffix(suffix)
    : parseSuffix(`m${suffix}`);

/** Italian and French sheets write a major seventh "7+", and set the quality off with a blank. */
const inOurWords = (suffix: string, { naming }: ChordNames): string =>
  naming === "italian" ? suffix.trim().replace(/^(m?)7\+$/, "$1maj7") : suffix;

function splitBass(
  rest: string,
  names: ChordNames,
): { readonly suffix: string; readonly bass: PitchName | undefined } {
  const [, suffix = "", word = ""] = /^(.*?) ?\/ ?([^/]+)$/.exec(rest) ?? [];
  const bass = word === "" ? undefined : noteNamed(word, names);
  return bass === undefined ? { suffix: rest, bass: undefined } : { suffix, bass };
}

/** One thing a suffix may say: how it looks and what it makes of the plan so far; undefined refuses it. */
interface Word {
  readonly looks: RegExp;
  readonly apply: (plan: ChordPlan, match: RegExpExecArray) => ChordPlan | undefined;
}

const MAJOR = "(?:[Mm]ajor|MAJOR|[Mm]aj|MAJ|MA|Ma(?!j)|ma(?!j|dd|ug|l)|mj|Mj|M(?![iI])|\\^|j(?=7|9))";
const MINOR = "(?:[Mm]inor|MINOR|[Mm]in|MIN|[Mm]i|MI|m(?!aj|a(?!dd|lt)|j)|-)";

/** Said at the very beginning, once: the triad. */
const TRIADS: readonly Word[] = [
  { looks: /^(?:half-?dim(?:inished)?|hdim)7?/, apply: (plan) => ({ ...plan, triad: "half-diminished" }) },
  {
    looks: /^(?:diminished|dim\.?|o(?=7|9|11|M|maj|\(|$|\/|,| ))/,
    apply: (plan) => ({ ...plan, triad: "diminished" }),
  },
  { looks: /^(?:augmented|aug|\+(?!(?:5|11)))/, apply: (plan) => ({ ...plan, triad: "augmented" }) },
  { looks: /^(?:dominant|dom)(?= ?(?:7|9|11|13))/, apply: (plan) => plan },
  // "7M" and "mM7" name the seventh, so a minor triad and a major seventh may stand one after the other.
  { looks: new RegExp(`^${MINOR}`), apply: (plan) => ({ ...plan, triad: "minor" }) },
];

const isExtension = (number: number): number is 7 | 9 | 11 | 13 => [7, 9, 11, 13].includes(number);

/** Said after the triad, in any order. */
const WORDS: readonly Word[] = [
  {
    looks: /^(?:6\/9|9\/6|69|6 ?add ?9)/,
    apply: (plan) =>
      hasNumber(plan) ? undefined : { ...plan, sixth: true, added: [...plan.added, { value: 9, alter: 0 }] },
  },
  {
    // "maj7", "(maj9)", "M", a triangle: with a number it names a seventh, bare it says the triad is major.
    looks: new RegExp(`^${MAJOR} ?(7|9|11|13)?`),
    apply: (plan, [, digits]) => {
      if (plan.seventh !== undefined && plan.extension !== undefined && digits !== undefined)
        return undefined;
      if (digits !== undefined)
        return { ...plan, seventh: "major", extension: Number(digits) as 7 | 9 | 11 | 13 };
      if (plan.extension !== undefined) return { ...plan, seventh: "major" };
      return plan.triad === "major" ? { ...plan, saysMajor: true } : undefined;
    },
  },
  {
    looks: /^(?:add|Add|ADD) ?([b#+-]?)(2|4|6|7|9|11|13)(?:th|nd)?/,
    apply: (plan, [, sign, digits]) => ({
      ...plan,
      added: [...plan.added, { value: Number(digits), alter: alterOf(sign) }],
    }),
  },
  {
    looks: /^(?:no|omit|No|Omit) ?(1|3|5|7|9|11)(?:rd|th|st)?/,
    apply: (plan, [, digits]) => ({ ...plan, omitted: [...plan.omitted, Number(digits)] }),
  },
  {
    looks: /^(?:sus|Sus|SUS) ?(?:(4|2) ?(?:\/? ?(2|4))?|(?=b9|$|[^0-9]))/,
    apply: (plan, [, first, second]) => {
      if (plan.suspension !== undefined) {
        const other = { value: plan.suspension === "second" ? 4 : 2, alter: 0 };
        return first === String(other.value) ? { ...plan, added: [...plan.added, other] } : undefined;
      }
      const suspension = first === "2" ? "second" : "fourth";
      const both = second !== undefined && second !== first;
      return {
        ...plan,
        suspension,
        added: both ? [...plan.added, { value: suspension === "second" ? 4 : 2, alter: 0 }] : plan.added,
      };
    },
  },
  {
    looks: /^sus ?(7|9|13)/,
    apply: (plan, [, digits]) =>
      hasNumber(plan)
        ? undefined
        : { ...plan, suspension: "fourth", seventh: "minor", extension: Number(digits) as 7 },
  },
  { looks: /^(?:alt(?:ered)?\.?)/, apply: (plan) => ({ ...plan, isAltered: true }) },
  {
    looks: /^(?:b|#|\+|-|aug|dim) ?(5|9|11|13|6|4|3|2)(?:th)?/,
    apply: (plan, [whole, digits]) => ({
      ...plan,
      alterations: [...plan.alterations, { value: Number(digits), alter: /^(b|-|dim)/.test(whole) ? -1 : 1 }],
    }),
  },
  {
    // A seventh named by its accidental: "Cm(#7)", "C+(b7)".
    looks: /^(b|#|\+) ?7(?:th)?/,
    apply: (plan, [, sign]) =>
      plan.extension === undefined && plan.triad !== "major"
        ? { ...plan, extension: 7, seventh: sign === "b" ? "minor" : "major" }
        : undefined,
  },
  {
    looks: /^(?:\+|aug)/,
    apply: (plan) => (plan.triad === "major" ? { ...plan, triad: "augmented" } : undefined),
  },
  {
    looks: /^(13|11|9|7)(?:th)?/,
    apply: (plan, [, digits]) => {
      const number = Number(digits);
      if (!isExtension(number)) return undefined;
      // A second number is a tone more: "C7(13)", "Cm7 11".
      if (hasNumber(plan))
        return number === 7 ? undefined : { ...plan, added: [...plan.added, { value: number, alter: 0 }] };
      return { ...plan, extension: number, seventh: plan.saysMajor ? "major" : "minor" };
    },
  },
  { looks: /^6(?:th)?/, apply: (plan) => (plan.sixth ? undefined : { ...plan, sixth: true }) },
  {
    looks: /^5(?:th)?/,
    apply: (plan) => (plan.triad === "major" && !hasNumber(plan) ? { ...plan, isPower: true } : undefined),
  },
  {
    looks: /^([24])/,
    apply: (plan, [, digits]) => {
      if (hasNumber(plan)) return undefined;
      if (digits === "4") return { ...plan, suspension: "fourth" };
      return { ...plan, added: [...plan.added, { value: 2, alter: 0 }] };
    },
  },
];

const hasNumber = (plan: ChordPlan): boolean => plan.extension !== undefined || plan.sixth;

const alterOf = (sign: string | undefined): number =>
  sign === "b" || sign === "-" ? -1 : sign === "" ? 0 : 1;

/** Marks that part one word from the next. A slash before a number adds it: "C7/13". */
const SEPARATORS = /^(?:[(),;[\] ]|\/(?=[b#]?\d|maj|Maj|M7))+/;

function parseSuffix(suffix: string): ChordQuality | undefined {
  if (!bracketsMatch(suffix)) return undefined;
  let rest = suffix.trim();
  let plan: ChordPlan | undefined = NO_PLAN;
  rest = rest.replace(/^\((.*)\)$/, (whole, inner: string) => (/[()]/.test(inner) ? whole : inner));
  for (const triad of TRIADS) {
    const match = triad.looks.exec(rest);
    if (match === null) continue;
    plan = triad.apply(plan, match);
    rest = rest.slice(match[0].length);
    break;
  }
  while (plan !== undefined && rest !== "") {
    const gap = SEPARATORS.exec(rest)?.[0].length ?? 0;
    rest = rest.slice(gap);
    if (rest === "") break;
    let next: ChordPlan | undefined;
    for (const word of WORDS) {
      const match = word.looks.exec(rest);
      if (match === null) continue;
      next = word.apply(plan, match);
      if (next === undefined) continue;
      rest = rest.slice(match[0].length);
      break;
    }
    plan = next;
  }
  return plan === undefined ? undefined : planSymbol(plan);
}

function bracketsMatch(text: string): boolean {
  let open = 0;
  for (const sign of text) {
    if (sign === "(" || sign === "[") open += 1;
    if (sign === ")" || sign === "]") open -= 1;
    if (open < 0) return false;
  }
  return open === 0;
}
