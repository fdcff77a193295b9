import type { Arrangement, Placement } from "#built/arrangement/arrangement.js";
import { type Chord, chordOf } from "#built/harmony/chord-tones.js";
import type { ChordSymbol } from "#built/song/chord-symbol.js";
import { pitchClass } from "#built/song/pitch.js";
import type { MelodyNote, Tune } from "#built/song/tune.js";
import type { Judged, Section } from "./section.js";
import { percent, ratio, type Tally } from "./tally.js";

/** A figure of how much an arrangement reads like what a guitarist would keep. */
interface Figure {
  readonly name: string;
  readonly what: string;
  readonly part: string;
  readonly whole: string;
  readonly unit: "share" | "semitones";
  readonly goal: string;
}

/**
 * The figures that the script `../shared/check/idiom.py` takes from the written TAB, here from the arrangement; the
 * goals are those set for them. Jazz guitarists' own progressions (333 chord changes of a public research
 * set, the top voice free) move 1.06-1.19 semitones an inner voice, never over a major third, and stay on their
 * strings in 96-100 %.
 */
export const FIGURES: readonly Figure[] = [
  {
    name: "skipped",
    what: "a string left out inside a struck grip",
    part: "skipped",
    whole: "struck",
    unit: "share",
    goal: "≤ 2 %",
  },
  {
    name: "hole",
    what: "over an octave between neighbouring voices",
    part: "hole",
    whole: "struck",
    unit: "share",
    goal: "",
  },
  {
    name: "wideTriad",
    what: "three notes over more than an octave",
    part: "wideTriad",
    whole: "threes",
    unit: "share",
    goal: "≤ 4 %",
  },
  {
    name: "openHigh",
    what: "an open string under a finger at fret 6 or higher",
    part: "openHigh",
    whole: "notes",
    unit: "share",
    goal: "≤ 0.5 %",
  },
  {
    name: "thin",
    what: "fewer notes than the chord asks",
    part: "thin",
    whole: "struck",
    unit: "share",
    goal: "≤ 1 %",
  },
  {
    name: "thinHold",
    what: "a single supporting note still sounds",
    part: "thinHold",
    whole: "notes",
    unit: "share",
    goal: "≤ 1 %",
  },
  {
    name: "lowColour",
    what: "under E3 neither root, fifth nor slash bass",
    part: "lowColour",
    whole: "struck",
    unit: "share",
    goal: "≤ 2 %",
  },
  {
    name: "beyond12",
    what: "melody above the twelfth fret",
    part: "beyond12",
    whole: "notes",
    unit: "share",
    goal: "≤ 1.5 %",
  },
  {
    name: "innerSemitones",
    what: "an inner voice under a melody step",
    part: "innerSum",
    whole: "innerVoices",
    unit: "semitones",
    goal: "≤ 1.4",
  },
  {
    name: "innerLeaps",
    what: "an inner voice leaps over a major third there",
    part: "innerLeaps",
    whole: "matched",
    unit: "share",
    goal: "≤ 6 %",
  },
  {
    name: "sameStrings",
    what: "the grip stays on its strings there",
    part: "sameStrings",
    whole: "matched",
    unit: "share",
    goal: "≥ 80 %",
  },
  {
    name: "dropped",
    what: "the number of voices changes there",
    part: "dropped",
    whole: "steps",
    unit: "share",
    goal: "≤ 12 %",
  },
  {
    name: "twice",
    what: "a measure that returns is played alike",
    part: "alike",
    whole: "again",
    unit: "share",
    goal: "≥ 97 %",
  },
  {
    name: "restruck",
    what: "same note, same chord, another grip",
    part: "restruckOther",
    whole: "restruckPairs",
    unit: "share",
    goal: "0",
  },
];

export const IDIOM: Section = {
  judge,
  lines: (tally) => [
    "what guitarists keep, with the goal:",
    ...FIGURES.map(({ name, what, unit, goal, ...figure }) => {
      const value = ratio(tally, `idiom: ${figure.part}`, `idiom: ${figure.whole}`);
      const text = unit === "share" ? percent(value) : value.toFixed(2);
      return `  ${name.padEnd(15)} ${text.padStart(8)}  ${goal.padEnd(8)} ${what}`;
    }),
  ],
};

/** A string that sounds, from `at` to `end`, in ticks. */
interface Sounding extends Placement {
  readonly at: number;
  readonly end: number;
  readonly midi: number;
}

function judge({ tune, arrangement, placeOf }: Judged, tally: Tally): void {
  const count = (what: string, at?: number) =>
    tally.count(`idiom: ${what}`, at === undefined ? undefined : placeOf(at));
  const add = (what: string, by: number) => tally.count(`idiom: ${what}`, undefined, by);
  const attacks = attacksOf(tune, arrangement);
  const melodyAt = new Map(tune.melody.map((note) => [note.onset, note]));
  const chords = new Map(
    tune.chords.map((span) => [span.index, span.symbol === undefined ? undefined : chordOf(span.symbol)]),
  );
  const spanAt = (tick: number) => tune.chords.findLast(({ start }) => start <= tick);
  const chordAt = (tick: number) => chords.get(spanAt(tick)?.index ?? -1);
  const moments = [...attacks.keys()].sort((a, b) => a - b);
  const grips: (readonly Sounding[])[] = [];
  let ringing: readonly Sounding[] = [];
  for (const at of moments) {
    const here = attacks.get(at) ?? [];
    const under = ringing.filter(({ end }) => end > at);
    ringing = [...under, ...here];
    const chord = chordAt(at);
    const isMelodyStruck = melodyAt.has(at);
    if (isMelodyStruck) {
      count("notes");
      if ((here.at(-1)?.fret ?? 0) > 12) count("beyond12", at);
      if (chord !== undefined && here.length === 1 && ringing.length === 2) count("thinHold", at);
    }
    if (ringing.some(({ fret }) => fret === 0) && ringing.some(({ fret }) => fret >= 6))
      count("openHigh", at);
    if (here.length < 3) {
      if (chord !== undefined && here.length === 2 && under.length === 0) {
        count("struck");
        count("thin", at);
      }
      continue;
    }
    judgeGrip(here, under.length, chord, (what) => count(what, at));
    if (under.length === 0 && isMelodyStruck) grips.push(here);
  }
  for (const [index, grip] of grips.slice(1).entries()) judgeStep(grips[index] ?? [], grip, count, add);
  moments.slice(1).forEach((at, index) => {
    const before = moments[index] ?? 0;
    const [first, second] = [attacks.get(before) ?? [], attacks.get(at) ?? []];
    const isSameNote = melodyAt.get(before)?.midi === melodyAt.get(at)?.midi && melodyAt.has(at);
    const isSameChord = spanAt(before) === spanAt(at) && chordAt(at) !== undefined;
    if (!isSameNote || !isSameChord || first.length < 2 || second.length < 2) return;
    count("restruckPairs");
    if (placesText(first) !== placesText(second)) count("restruckOther", at);
  });
  judgeReturns(tune, attacks, count);
}

/** What is struck at each moment, low to high. */
function attacksOf(tune: Tune, { melody, supports }: Arrangement): ReadonlyMap<number, readonly Sounding[]> {
  const sounding = [
    ...tune.melody.flatMap((note, index): readonly Sounding[] => {
      const place = melody[index];
      return place === undefined ? [] : [{ ...place, at: note.onset, end: endOf(note), midi: note.midi }];
    }),
    ...supports.map((support) => ({ ...support, at: support.onset })),
  ];
  const attacks = new Map<number, Sounding[]>();
  for (const note of sounding.sort((a, b) => a.at - b.at || a.midi - b.midi)) {
    const here = attacks.get(note.at);
    if (here === undefined) attacks.set(note.at, [note]);
    else here.push(note);
  }
  return attacks;
}

const endOf = (note: MelodyNote): number => note.onset + note.length;

function judgeGrip(
  here: readonly Sounding[],
  underCount: number,
  chord: Chord | undefined,
  count: (what: string) => void,
): void {
  count("struck");
  const midis = here.map(({ midi }) => midi);
  const strings = here.map(({ string }) => string).sort((a, b) => b - a);
  const steps = strings.slice(1).map((string, index) => (strings[index] ?? 0) - string);
  const skips = steps.filter((step) => step > 1);
  // The open drop-3 and shell shapes skip the string right above the lowest note.
  if (skips.length > 0 && !(skips.length === 1 && steps[0] === 2)) count("skipped");
  if (midis.slice(1).some((midi, index) => midi - (midis[index] ?? 0) > 12)) count("hole");
  const lowest = midis[0] ?? 0;
  if (here.length === 3) {
    count("threes");
    if ((midis.at(-1) ?? 0) - lowest > 12) count("wideTriad");
  }
  if (chord === undefined) return;
  if (here.length + underCount < (chord.isSeventhOrLarger ? 4 : 3)) count("thin");
  const fifth = chord.tones.find(({ number }) => number === 5)?.semitones ?? 7;
  const root = pitchClass(chord.symbol.root);
  const firm = [root, (root + fifth) % 12, chord.bass?.pitchClass];
  if (lowest < E3 && !firm.includes(lowest % 12)) count("lowColour");
}

const E3 = 52;

/** Two grips in a row while the melody moves a whole tone at most. */
function judgeStep(
  before: readonly Sounding[],
  after: readonly Sounding[],
  count: (what: string, at?: number) => void,
  add: (what: string, by: number) => void,
): void {
  const at = after[0]?.at ?? 0;
  if (placesText(before) === placesText(after)) return;
  if (Math.abs((before.at(-1)?.midi ?? 0) - (after.at(-1)?.midi ?? 0)) > 2) return;
  count("steps");
  if (before.length !== after.length) {
    count("dropped", at);
    return;
  }
  const moved = after.slice(0, -1).map((note, voice) => Math.abs(note.midi - (before[voice]?.midi ?? 0)));
  count("matched");
  add("innerVoices", moved.length);
  add(
    "innerSum",
    moved.reduce((sum, one) => sum + one, 0),
  );
  if (Math.max(...moved) > 4) count("innerLeaps", at);
  if (after.every((note, voice) => note.string === before[voice]?.string)) count("sameStrings");
}

/** Measures whose melody and chords stood before in the tune, and whether they are played as one of those. */
function judgeReturns(
  tune: Tune,
  attacks: ReadonlyMap<number, readonly Sounding[]>,
  count: (what: string, at?: number) => void,
): void {
  const known = new Map<string, Set<string>>();
  for (const { start, length } of tune.measures) {
    const isInside = (tick: number) => start <= tick && tick < start + length;
    const notes = tune.melody.filter(({ onset }) => isInside(onset));
    if (notes.length === 0) continue;
    const symbols = tune.chords
      .filter((span) => isInside(span.start) || (span.start <= start && span.end > start))
      .map(({ start: from, symbol }) => [
        Math.max(0, from - start),
        symbol === undefined ? null : tonesOf(symbol),
      ]);
    const music = JSON.stringify([
      notes.map(({ onset, midi, length: long }) => [onset - start, midi, long]),
      symbols,
    ]);
    const played = [...attacks]
      .filter(([at]) => isInside(at))
      .sort(([a], [b]) => a - b)
      .map(([at, here]) => `${at - start}: ${placesText(here)}`)
      .join(", ");
    const before = known.get(music);
    if (before === undefined) known.set(music, new Set([played]));
    else {
      count("again");
      if (before.has(played)) count("alike");
      else count("returns played otherwise", start);
      before.add(played);
    }
  }
}

/** A chord by its tones, whatever its bass and its spelling. */
const tonesOf = (symbol: ChordSymbol): readonly number[] => {
  const { tones } = chordOf(symbol);
  return [pitchClass(symbol.root), ...tones.map(({ semitones }) => semitones)];
};

const placesText = (notes: readonly Sounding[]): string =>
  notes.map(({ string, fret }) => `${string}/${fret}`).join(" ");
