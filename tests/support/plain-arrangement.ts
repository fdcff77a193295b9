import type { Arrangement, Barre, Placement, SupportNote } from "../../src/arrangement/arrangement.js";
import type { Finger } from "../../src/guitar/grip.js";
import { type Instrument, midiAt } from "../../src/guitar/instrument.js";
import type { LeadSheet } from "../../src/musicxml/lead-sheet/lead-sheet.js";
import { midiOf, type Pitch, parsePitchName, pitchNamed, transposePitch } from "../../src/song/pitch.js";
import type { Transposition } from "../../src/song/transposition.js";

/** A supporting note in a test: pitch, string, finger, and when it sounds in quarters from the start. */
export interface Support {
  readonly pitch: string;
  readonly string: number;
  readonly finger?: Finger;
  readonly from: number;
  readonly to: number;
  /** The melody note that it is, left to ring. */
  readonly leftByMelody?: number;
}

export interface PlainWishes {
  readonly supports?: readonly Support[];
  readonly barres?: readonly { readonly at: number; readonly barre: Barre }[];
  /** Where the melody notes are played, in order; on the first string that has them where none is given. */
  readonly places?: readonly Placement[];
  /** "2M" up a tone; the semitones with it. */
  readonly transposition?: Transposition;
}

/**
 * An arrangement to write down, not to play: the melody on the first string that has it, the supporting
 * notes as given, every moment of the melody and of a supporting note an event.
 */
export function plainArrangement(
  { tune, source }: LeadSheet,
  wishes: PlainWishes,
  instrument: Instrument,
): Arrangement {
  const { supports: given = [], barres = [] } = wishes;
  const transposition = wishes.transposition ?? { semitones: 0, interval: "1P" };
  const moved = (pitch: Pitch) => transposePitch(pitch, transposition.interval, transposition.semitones);
  const ticks = (quarters: number) => Math.round(quarters * tune.ticksPerQuarter);
  const supports = given.map((support): SupportNote => {
    const pitch = pitchFrom(support.pitch);
    const midi = midiOf(pitch);
    const fret = midi - midiAt(instrument, support.string, 0);
    return {
      onset: ticks(support.from),
      end: ticks(support.to),
      midi,
      pitch,
      degree: "1",
      string: support.string,
      fret,
      finger: fret === 0 ? 0 : (support.finger ?? 1),
      ...(support.leftByMelody === undefined ? {} : { leftByMelody: support.leftByMelody }),
    };
  });
  const moments = [
    ...new Set([...tune.melody.map(({ onset }) => onset), ...supports.map(({ onset }) => onset)]),
  ];
  return {
    instrument,
    transposition,
    playedOtherwise: [],
    melody: tune.melody.map(
      (note, index) => wishes.places?.[index] ?? firstString(instrument, midiOf(moved(note.pitch))),
    ),
    supports,
    events: moments
      .sort((one, other) => one - other)
      .map((onset) => {
        const note = tune.melody.findLast((one) => one.onset <= onset);
        const sounding = supports.flatMap((one, index) =>
          one.onset <= onset && one.end > onset ? [index] : [],
        );
        const isStruck = sounding.some((index) => supports[index]?.onset === onset);
        return {
          onset,
          melodyNote: note?.index ?? 0,
          attack: isStruck
            ? note?.onset === onset
              ? "struck"
              : "under"
            : sounding.length > 0
              ? "held"
              : "single",
          chord: tune.chords.find(({ start, end }) => start <= onset && end > onset)?.index,
          melodyDegree: undefined,
          supports: sounding,
          handMm: 0,
          whySingle: undefined,
          voicesLeftOut: [],
          leftOut: [],
          alternatives: [],
          barres: barres.filter(({ at }) => ticks(at) === onset).map(({ barre }) => barre),
        };
      }),
    graces: new Map(
      source.written.flatMap(({ id, kind, onset, pitch }) => {
        if (kind !== "grace" || pitch === undefined) return [];
        const midi = midiOf(moved(pitch));
        return [[id, { onset, midi, ...firstString(instrument, midi) }] as const];
      }),
    ),
    cost: 0,
  };
}

export function pitchFrom(text: string): Pitch {
  const [, name = "", octave = ""] = /^(.*?)(\d)$/.exec(text) ?? [];
  const parsed = parsePitchName(name);
  const pitch = parsed && pitchNamed(parsed, midiOf({ ...parsed, octave: Number(octave) }));
  if (pitch === undefined) throw new Error(`no pitch "${text}"`);
  return pitch;
}

function firstString(instrument: Instrument, midi: number): Placement {
  for (let string = 1; string <= instrument.openStrings.length; string++) {
    const fret = midi - midiAt(instrument, string, 0);
    if (fret >= 0) return { string, fret, finger: fret === 0 ? 0 : 1 };
  }
  throw new Error(`no string for MIDI ${midi}`);
}
