import { Findings, ScoreError } from "../../diagnostics.js";
import { OPTIONS } from "../../options/options.js";
import { timeIn } from "../chords/chord-spans.js";
import { chooseMelody } from "../lead-sheet/choose-melody.js";
import { readMelodyLine } from "../lead-sheet/melody-line.js";
import { isSung, type MelodyLine, TOP } from "../lead-sheet/sung-line.js";
import type { OwnMark } from "../round-trip/provenance.js";
import type { Quarters } from "../timeline/exact-time.js";
import type { WalkedPart } from "../timeline/walked-part.js";
import type { GuitarStaves, ScoreStaff } from "./guitar-staves.js";
import type { StaffNote } from "./staff-notes.js";

/** A note that has to be heard on top, in the time of the guitar's first staff. */
export interface TopNote {
  readonly at: Quarters;
  readonly length: Quarters;
  /** In the key of the guitar. */
  readonly midi: number;
  readonly measure: number;
}

export interface FoundMelody {
  readonly source: "lead" | "voice";
  /** The part it stands in, where that is the lead sheet's. */
  readonly leadPart: WalkedPart | undefined;
  readonly notes: readonly TopNote[];
  /** Semitones from the lead sheet to the guitar. */
  readonly moved: number;
}

/** The word for the tune that is to be found. */
const AUTO = OPTIONS.melody.default;

/** Share of a lead sheet's notes that the guitar must have for the lead sheet to be its tune. */
const SAME_TUNE = 0.5;

/**
 * The tune a guitar part plays: that of the other parts, where the guitar has it on top, moved by one and
 * the same interval; else the guitar's own upper voice. Where nothing is `asked`, it is the line that the score was made
 * from, unless that is gone.
 *
 * @throws ScoreError "melody-part-unknown", "melody-voice-unknown" where a melody was asked for by name
 */
export function guitarMelody(
  parts: readonly WalkedPart[],
  staves: GuitarStaves,
  home: ScoreStaff,
  notes: readonly StaffNote[],
  asked: string,
  mark: OwnMark | undefined,
): FoundMelody {
  const { notation, tab, otherTabs } = staves;
  const others = withoutStaves(parts, [notation, tab, ...otherTabs]);
  // Nothing but TAB beside the guitar, where the mark says that there is a lead sheet: then that is it.
  const isLeadTab = others.length === 0 && mark?.lead === "keep";
  const line = leadLine(isLeadTab ? withoutStaves(parts, [notation, tab]) : others, asked, mark);
  const lead = line === undefined ? undefined : leadMelody(line, home, notes);
  return lead ?? { source: "voice", leadPart: undefined, notes: upperVoice(notes), moved: 0 };
}

function withoutStaves(
  parts: readonly WalkedPart[],
  gone: readonly (ScoreStaff | undefined)[],
): readonly WalkedPart[] {
  return parts
    .map((part) => ({
      ...part,
      notes: part.notes.filter(
        (note) => !gone.some((staff) => staff?.part.id === part.id && staff.staff === note.staff),
      ),
    }))
    .filter((part) => part.notes.some(isSung));
}

function leadLine(
  parts: readonly WalkedPart[],
  asked: string,
  mark: OwnMark | undefined,
): MelodyLine | undefined {
  const isPartNamed = asked !== AUTO && asked.trim().toLowerCase() !== TOP;
  if (isPartNamed) return chooseMelody(parts, asked, undefined, new Findings());
  const made = asked === AUTO ? mark?.options.melody : undefined;
  return (typeof made === "string" ? lineIn(parts, made) : undefined) ?? lineIn(parts, asked);
}

/** undefined where there is none of that name. */
function lineIn(parts: readonly WalkedPart[], name: string): MelodyLine | undefined {
  try {
    return chooseMelody(parts, name, undefined, new Findings());
  } catch (error) {
    if (error instanceof ScoreError) return undefined;
    throw error;
  }
}

function leadMelody(
  line: MelodyLine,
  home: ScoreStaff,
  notes: readonly StaffNote[],
): FoundMelody | undefined {
  const tops = topsByTime(notes);
  const tune = readMelodyLine(line, new Findings()).melody.map((note) => ({
    ...note,
    at: timeIn(home.part, line.part, note.onset),
  }));
  const distances = tune.flatMap(({ at, midi }) => {
    const top = tops.get(at.toFraction());
    return top === undefined ? [] : [top - midi];
  });
  const moved = mostFrequent(distances);
  if (moved === undefined) return undefined;
  const shared = distances.filter((distance) => distance === moved).length;
  if (shared < SAME_TUNE * tune.length) return undefined;
  return {
    source: "lead",
    leadPart: line.part,
    moved,
    notes: tune.map(({ at, length, midi, measure }) => ({ at, length, midi: midi + moved, measure })),
  };
}

function topsByTime(notes: readonly StaffNote[]): ReadonlyMap<string, number> {
  const tops = new Map<string, number>();
  for (const { at, midi, kind } of notes)
    if (kind === "note") tops.set(at.toFraction(), Math.max(midi, tops.get(at.toFraction()) ?? midi));
  return tops;
}

/** The value that stands there most often, of several the first. */
function mostFrequent(values: readonly number[]): number | undefined {
  const counts = new Map<number, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  let best: number | undefined;
  for (const [value, count] of counts)
    if (best === undefined || count > (counts.get(best) ?? 0)) best = value;
  return best;
}

/**
 * The top notes of the voice that lies highest, of those that are there in at least half as many bars as
 * the busiest. A note struck while a higher one of its voice rings on is no tune.
 */
function upperVoice(notes: readonly StaffNote[]): readonly TopNote[] {
  const voices = new Map<string, StaffNote[]>();
  for (const note of notes) {
    if (note.kind !== "note") continue;
    const voice = voices.get(note.voice) ?? [];
    voice.push(note);
    voices.set(note.voice, voice);
  }
  const bars = (voice: readonly StaffNote[]) => new Set(voice.map(({ measure }) => measure)).size;
  const height = (voice: readonly StaffNote[]) =>
    voice.reduce((sum, { midi }) => sum + midi, 0) / voice.length;
  const busiest = Math.max(0, ...[...voices.values()].map(bars));
  const [upper] = [...voices.values()]
    .filter((voice) => 2 * bars(voice) >= busiest)
    .sort((a, b) => height(b) - height(a));
  const tune: TopNote[] = [];
  for (const note of upper ?? []) {
    const last = tune.at(-1);
    const isUnder = last?.at.add(last.length).gt(note.at) === true && last.midi >= note.midi;
    if (isUnder) continue;
    if (last?.at.equals(note.at)) tune.pop();
    const { at, length, midi, measure } = note;
    tune.push({ at, length, midi, measure });
  }
  return tune;
}
