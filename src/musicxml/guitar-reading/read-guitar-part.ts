import { type Finding, type Findings, ScoreError } from "../../diagnostics.js";
import type {
  GuitarLayout,
  GuitarNote,
  GuitarScore,
  StaffReading,
  StatedInstrument,
} from "../../guitar/guitar-score.js";
import type { ArrangeOptions } from "../../options/options.js";
import type { XmlElement } from "../../xml/xml-tree.js";
import { timeIn } from "../chords/chord-spans.js";
import { chordSpans, temposIn, titleOf, tuneMeasure } from "../chords/score-facts.js";
import { readOwnMark } from "../round-trip/provenance.js";
import { partNames, partwiseScore } from "../timeline/partwise.js";
import { jumpAt, jumpsIn, measuresAsPlayed } from "../timeline/playing-order.js";
import { type Ticks, ticksFor } from "../timeline/ticks.js";
import type { WalkedPart } from "../timeline/walked-part.js";
import { walkedParts } from "../timeline/walked-score.js";
import { withFingersThatStay } from "./fingers-that-stay.js";
import { guitarChords } from "./guitar-chords.js";
import { guitarMelody } from "./guitar-melody.js";
import { type GuitarStaves, guitarStaves, type ScoreStaff } from "./guitar-staves.js";
import { type MatchedNote, type MatchedStaves, matchedNotes } from "./matched-notes.js";
import type { StaffNote } from "./staff-notes.js";
import { instrumentChanges, statedInstrument } from "./stated-instrument.js";

/**
 * Reads a guitar part back from any score: notation and TAB as two parts or as two staves, TAB alone,
 * notation alone; with or without a lead sheet beside it, whatever the parts are called and however
 * voices are numbered. `root` is the root element of the document, partwise or timewise.
 *
 * @throws ScoreError "not-a-score", "no-guitar-part", "divisions-missing", "duration-unreadable",
 *   "time-too-fine", and for a melody asked for by name "melody-part-unknown", "melody-voice-unknown"
 */
export function readGuitarScore(
  root: XmlElement,
  options: Pick<ArrangeOptions, "melody">,
  findings: Findings,
): GuitarScore {
  const score = partwiseScore(root);
  const parts = walkedParts(score, findings);
  const mark = readOwnMark(score);
  const staves = guitarStaves(parts, mark);
  const home = staves?.notation ?? staves?.tab;
  if (staves === undefined || home === undefined) throw noGuitarPart(parts);
  const matched = matchedStaves(staves, home);
  const melody = guitarMelody(parts, staves, home, home.notes, options.melody, mark);
  for (const other of staves.otherTabs)
    if (other.part.id !== melody.leadPart?.id) findings.add(tabLeftOut(other));
  const own = parts.filter((part) => part === home.part || part === staves.tab?.part);
  // Symbols of a part in another key would be wrong over this one.
  const others = melody.moved % 12 === 0 ? parts.filter((part) => !own.includes(part)) : [];
  const chords = guitarChords([...own, ...others], home.part, findings).filter(
    ({ chord }) => chord !== undefined,
  );
  const tempos = temposIn([...own, ...parts], home.part);
  const { part } = home;
  const ticks = ticksFor(
    [
      ...part.measures.flatMap(({ start, length }) => [start, length]),
      ...matched.notes.flatMap(({ notation, tab }) =>
        [notation, tab].flatMap((note) => (note === undefined ? [] : [note.at, note.length])),
      ),
      ...melody.notes.flatMap(({ at, length }) => [at, length]),
      ...chords.map(({ at }) => at),
      part.end,
    ],
    tempos.map(({ at }) => at),
  );
  const startOf = (measure: number) => ticks(part.measures[measure]?.start ?? part.end);
  return {
    title: titleOf(score),
    layout: layoutOf(staves),
    ticksPerQuarter: ticks.perQuarter,
    measures: part.measures.map((measure) => tuneMeasure(measure, ticks)),
    chords: chordSpans(chords, part, ticks),
    tempos: tempos.map(({ at, tempo }) => ({ at: ticks.nearest(at), quartersPerMinute: tempo.valueOf() })),
    jumps: jumpsIn(measuresAsPlayed(part)).map((jump) => jumpAt(jump, startOf)),
    instrument: instrumentOf(staves, findings),
    notes: guitarNotes(matched, ticks),
    melody: {
      source: melody.source,
      notes: melody.notes.map(({ at, length, midi, measure }) => ({
        onset: ticks(at),
        length: ticks(length),
        midi,
        measure,
      })),
    },
    notationAboveTab: matched.notationAboveTab,
  };
}

/** The notes of both staves in the time of the first. */
function matchedStaves({ notation, tab }: GuitarStaves, home: ScoreStaff): MatchedStaves {
  const inHomeTime = tab?.notes.map((note) => ({ ...note, at: timeIn(home.part, tab.part, note.at) })) ?? [];
  return notation === undefined
    ? { notes: inHomeTime.map((note) => ({ notation: undefined, tab: note })), notationAboveTab: 0 }
    : tab === undefined
      ? { notes: notation.notes.map((note) => ({ notation: note, tab: undefined })), notationAboveTab: 0 }
      : matchedNotes(notation.notes, inHomeTime);
}

const layoutOf = ({ notation, tab }: GuitarStaves): GuitarLayout =>
  notation === undefined
    ? "tab"
    : tab === undefined
      ? "notation"
      : notation.part === tab.part
        ? "joined"
        : "parts";

/** What the TAB says of the instrument, and where that is silent the notation. */
function instrumentOf({ notation, tab }: GuitarStaves, findings: Findings): StatedInstrument {
  const staves = [tab, notation].filter((staff) => staff !== undefined);
  const stated = staves.map(statedInstrument);
  for (const finding of staves.flatMap(instrumentChanges)) findings.add(finding);
  return {
    openStrings: stated.find(({ openStrings }) => openStrings !== undefined)?.openStrings,
    capo: stated.find(({ capo }) => capo !== undefined)?.capo,
  };
}

function guitarNotes({ notes, notationAboveTab }: MatchedStaves, ticks: Ticks): readonly GuitarNote[] {
  const inOrder = notes
    .map((matched) => guitarNote(matched, notationAboveTab, ticks))
    .sort((a, b) => a.onset - b.onset || rank(a) - rank(b) || (a.kind === "note" ? a.midi - b.midi : 0));
  return withFingersThatStay(inOrder).map((note, index) => ({ ...note, index }));
}

/** Grace notes come before what they lead to. */
const rank = ({ kind }: GuitarNote): number => (kind === "grace" ? 0 : 1);

function guitarNote({ notation, tab }: MatchedNote, notationAboveTab: number, ticks: Ticks): GuitarNote {
  // A notation staff that stands off as a whole is the one that was moved: TAB goes by strings.
  const main = notationAboveTab === 0 ? (notation ?? tab) : (tab ?? notation);
  if (main === undefined) throw new Error("a note on neither staff");
  const string = tab?.string ?? notation?.string;
  const fret = tab?.fret ?? notation?.fret;
  const ringsBeyond = notation?.ringsBeyond ?? tab?.ringsBeyond;
  return {
    index: 0,
    kind: main.kind,
    onset: ticks(main.at),
    length: ticks(main.length),
    measure: main.measure,
    voice: main.voice,
    pitch: main.pitch,
    midi: main.midi,
    string,
    fret,
    finger: fret === 0 ? 0 : (notation?.finger ?? tab?.finger),
    isLeftRinging: (notation ?? tab)?.isLeftRinging === true,
    ringsBeyond: ringsBeyond && ticks.nearest(ringsBeyond),
    notation: notation && staffReading(notation, ticks),
    tab: tab && staffReading(tab, ticks),
  };
}

const staffReading = (note: StaffNote, ticks: Ticks): StaffReading => ({
  length: ticks(note.length),
  pitch: note.pitch,
  midi: note.midi,
  string: note.string,
  fret: note.fret,
  finger: note.finger,
  isHarmonic: note.isHarmonic,
  voice: note.voice,
});

const noGuitarPart = (parts: readonly WalkedPart[]) =>
  new ScoreError({
    rule: "no-guitar-part",
    place: {},
    found: parts.length === 0 ? "no parts" : `parts without pitched notes: ${partNames(parts)}`,
    expected: "a guitar part, as notation, TAB or both",
    message: "There is no guitar part: no part has pitched, visible notes.",
  });

const tabLeftOut = ({ part, notes }: ScoreStaff): Finding => ({
  rule: "tab-left-out",
  severity: "warning",
  place: { part: part.id },
  found: `${notes.length} notes on another TAB staff`,
  expected: "one guitar",
  message: `The score has more than one TAB staff; the ${notes.length} notes of this one were not read.`,
  hint: "Export the guitars one by one.",
});
