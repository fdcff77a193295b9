import { type PitchName, parsePitchName } from "../song/pitch.js";

/**
 * How roots are called. english: C D E F G A B. german: H is B natural, B is B flat, Es and Fis are E flat
 * and F sharp. italian: Do Re Mi Fa Sol La Si. Common practice.
 */
export type ChordNaming = "english" | "german" | "italian";

export interface ChordNames {
  readonly naming: ChordNaming;
  /**
   * What a small letter for a root says: a minor chord, as German books print it ("a" is A minor, "d7" D minor
   * seventh); the same as a capital; or that the text is no chord. Italian names have no case.
   */
  readonly small: "minor" | "capital" | "none";
}

export const ENGLISH: ChordNames = { naming: "english", small: "none" };

/** A root that a text may begin with, and what follows it. */
export interface RootReading {
  readonly root: PitchName;
  readonly rest: string;
  readonly isSmall: boolean;
}

/** The ways to read the root that a text begins with, the likeliest first. */
export function rootReadings(text: string, { naming }: ChordNames): readonly RootReading[] {
  return PATTERNS[naming].flatMap((pattern): readonly RootReading[] => {
    const [, word = "", sign = "", rest = ""] = pattern.exec(text) ?? [];
    const root = word === "" ? undefined : rootNamed(word, sign, naming);
    const isSmall = naming !== "italian" && /^[a-h]/.test(word);
    return root === undefined ? [] : [{ root, rest, isSmall }];
  });
}

/**
 * The names that most of a score's chord texts can be read with, English where others do no better. Beside
 * capitals, small letters are minor chords; where all are small, nobody meant anything by it.
 *
 * @param canBeRead whether a text is a chord with such names
 */
export function namesUsed(
  texts: readonly string[],
  canBeRead: (text: string, names: ChordNames) => boolean,
): ChordNames {
  const read = (naming: ChordNaming) => texts.filter((text) => canBeRead(text, { naming, small: "capital" }));
  let best = { naming: "english" as ChordNaming, texts: read("english") };
  for (const naming of ["german", "italian"] as const) {
    const these = read(naming);
    if (these.length > best.texts.length) best = { naming, texts: these };
  }
  const small = best.texts.filter((text) => /^[a-h]/.test(text)).length;
  if (best.naming === "italian" || small === 0) return { naming: best.naming, small: "capital" };
  return { naming: best.naming, small: small < best.texts.length ? "minor" : "capital" };
}

/** The note that a whole text names: "Bb", "fis", "Sol". */
export const noteNamed = (text: string, names: ChordNames): PitchName | undefined =>
  rootReadings(text, names).find(({ rest }) => rest === "")?.root;

/** "Abb5" is A flat with a flat fifth, "Bbb" B double flat: the reading with one accidental goes first. */
const PATTERNS: Readonly<Record<ChordNaming, readonly RegExp[]>> = {
  english: [/^([A-Ga-g])([b#])(.*)$/, /^([A-Ga-g])(bb|##)(.*)$/, /^([A-Ga-g])()(.*)$/],
  // "Asus4" is no A flat: the longer name goes first, and the plain letter is there where it fails.
  german: [
    /^([CDEFGAcdefga](?:is|es)|[EAea]s|[Hh]es|[Bb]es)()(.*)$/,
    /^([A-Ha-h])([b#])(.*)$/,
    /^([A-Ha-h])()(.*)$/,
  ],
  italian: [/^(Do|Ut|R[eé]|Mi|Fa|Sol|La|Si)(b|#)(.*)$/i, /^(Do|Ut|R[eé]|Mi|Fa|Sol|La|Si)()(.*)$/i],
};

const ITALIAN: Readonly<Record<string, string>> = {
  do: "C",
  ut: "C",
  re: "D",
  ré: "D",
  mi: "E",
  fa: "F",
  sol: "G",
  la: "A",
  si: "B",
};

function rootNamed(word: string, sign: string, naming: ChordNaming): PitchName | undefined {
  const small = word.toLowerCase();
  if (naming === "italian") return parsePitchName(`${ITALIAN[small]}${sign}`);
  const letter = small.slice(0, 1);
  if (naming === "english") return parsePitchName(`${letter.toUpperCase()}${sign}`);
  // B is B flat however it is marked; nobody writes B double flat.
  if (letter === "b") return sign === "#" ? undefined : { letter: "B", alter: -1 };
  const alter = /is$/.test(small) || sign === "#" ? 1 : small.length > 1 || sign === "b" ? -1 : 0;
  return { letter: letter === "h" ? "B" : (letter.toUpperCase() as PitchName["letter"]), alter };
}
