import { digestsThen, type Fingered, guitarDigestOf } from "../arrangement/measure-digests.js";
import type { GuitarScore } from "../guitar/guitar-score.js";
import type { Instrument } from "../guitar/instrument.js";
import { placesOfPitch } from "../guitar/places-of-pitch.js";
import { measureIndexAt } from "../song/measure-place.js";
import type { Tune } from "../song/tune.js";
import { combinations } from "./combinations.js";
import { notesAndGraces, type ReturnedNote, type ReturnedPart } from "./guitar-part-notes.js";

/** Whether a guitar part stands on notation and TAB. */
export const hasTwoStaves = ({ layout }: GuitarScore): boolean => layout !== "tab" && layout !== "notation";

/** Whether a note stands on one of the two staves only. */
export const isLone = ({ notationMidi, tabMidi }: ReturnedNote): boolean =>
  notationMidi === undefined || tabMidi === undefined;

/** Suppositions about a measure that are tried: three notes gone, each with any finger, are 125. */
const MOST_TRIED = 2000;
/** Of more lone notes in a measure, all were written or none. */
const MOST_CHOSEN_FROM = 6;

/**
 * Whether a note on one of two staves was written, and then deleted on the other: true, false where it was
 * added; undefined where that cannot be told. What a digest says of a measure is held against what it may
 * have been: with its lone notes, without them, with some. The staff that is gone took the finger or
 * the string along, so each is tried. A measure that was changed otherwise too tells nothing.
 */
export function wasWrittenIn(
  { guitar, digests }: ReturnedPart,
  tune: Tune,
  instrument: Instrument,
): (note: ReturnedNote) => boolean | undefined {
  if (digests === undefined || !hasTwoStaves(guitar)) return () => undefined;
  const notes = notesAndGraces(guitar, tune, instrument);
  const then = digestsThen(digests.guitar, tune.measures.length);
  const settled = new Map<number, ReadonlySet<string> | undefined>();
  return (note) => {
    const measure = measureIndexAt(tune, note.onset);
    if (!settled.has(measure)) settled.set(measure, writtenIn(measure));
    return settled.get(measure)?.has(keyOf(note));
  };

  /** The lone notes of a measure that were written; undefined where nothing that is tried has its digest. */
  function writtenIn(index: number): ReadonlySet<string> | undefined {
    const measure = tune.measures[index];
    if (measure === undefined) return undefined;
    const here = notes.filter(({ onset }) => measureIndexAt(tune, onset) === index);
    const lone = here.filter(isLone);
    const digest = then(index);
    let tried = 0;
    for (const written of choicesOf(lone)) {
      const there = here.filter((note) => !isLone(note) || written.includes(note));
      for (const supposed of combinations(there.map((note) => waysItWas(note, instrument)))) {
        if (digest.includes(guitarDigestOf(tune, measure, supposed))) return new Set(written.map(keyOf));
        tried += 1;
        if (tried >= MOST_TRIED) return undefined;
      }
    }
    return undefined;
  }
}

/** A note by what tells it from the others of a part. */
const keyOf = ({ onset, midi, string, voice }: ReturnedNote): string => `${onset} ${midi} ${string} ${voice}`;

/** Every choice of some of the items: all, none, then the others. */
function choicesOf<Item>(items: readonly Item[]): readonly (readonly Item[])[] {
  if (items.length > MOST_CHOSEN_FROM) return [items, []];
  const choices = items.reduce<readonly (readonly Item[])[]>(
    (so, item) => so.flatMap((choice) => [[...choice, item], choice]),
    [[]],
  );
  const [all = [], ...others] = choices;
  const none = others.slice(-1);
  return [all, ...none, ...others.slice(0, -1)];
}

const FINGERS = [1, 2, 3, 4];

/** What a note may have been when it was written, what it still says first. */
function waysItWas(note: ReturnedNote, instrument: Instrument): readonly Fingered[] {
  const { onset, end, midi } = note;
  const places =
    note.string === undefined || note.fret === undefined
      ? placesOfPitch(instrument, midi)
      : [{ string: note.string, fret: note.fret }];
  return places.flatMap(({ string, fret }) => {
    const said = fret === 0 ? 0 : note.finger;
    const others = fret === 0 || (said !== undefined && !isLone(note)) ? [] : FINGERS;
    const fingers = [...(said === undefined ? [] : [said]), ...others.filter((finger) => finger !== said)];
    return fingers.map((finger) => ({ onset, end, midi, string, fret, finger }));
  });
}
