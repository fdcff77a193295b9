import type { Finding, Findings } from "../../diagnostics.js";
import { midiOf, type Pitch } from "../../song/pitch.js";
import { childNamed, childrenNamed, type XmlElement } from "../../xml/xml-tree.js";
import type { Quarters } from "../timeline/exact-time.js";

import {
  byMeasure,
  placeIn,
  type WalkedMeasure,
  type WalkedNote,
  type WalkedPart,
} from "../timeline/walked-part.js";
import { soundingNote } from "./sounding-note.js";
import { isSung, type LineNote, type MelodyLine } from "./sung-line.js";

/** A note of the tune, ties joined. Times in quarter notes. */
export interface SungNote {
  readonly onset: Quarters;
  readonly length: Quarters;
  readonly pitch: Pitch;
  readonly midi: number;
  readonly measure: number;
  /** A mark on its last piece asks for silence before the next note. */
  readonly isDetached: boolean;
}

/** A note, rest or grace note as it stands on the staff. */
export interface LineItem {
  readonly kind: "note" | "rest" | "grace";
  readonly measure: number;
  readonly at: Quarters;
  readonly length: Quarters;
  /** Position among the sung notes. */
  readonly melodyNote: number | undefined;
  readonly pitch: Pitch | undefined;
  readonly tiedOn: boolean;
  readonly element: XmlElement | undefined;
}

/**
 * The tune as one line: of notes struck together the top one; tied notes of one pitch that touch joined;
 * every measure filled from end to end with notes and rests.
 */
export function readMelodyLine(
  line: MelodyLine,
  findings: Findings,
): { readonly melody: readonly SungNote[]; readonly written: readonly LineItem[] } {
  const { part } = line;
  const onLine = line.notes;
  const tops = withoutOverlaps(part, topNotes(onLine, findings), findings);
  const melody: SungNote[] = [];
  const notes: LineItem[] = [];
  let before: TopNote | undefined;
  for (const top of tops) {
    const joins =
      before?.note.startsTie && before.midi === top.midi && before.at.add(before.length).equals(top.at);
    const last = melody.at(-1);
    const lastItem = notes.at(-1);
    if (joins && last !== undefined && lastItem !== undefined) {
      melody[melody.length - 1] = {
        ...last,
        length: last.length.add(top.length),
        isDetached: isDetached(top.note.element),
      };
      notes[notes.length - 1] = { ...lastItem, tiedOn: true };
    } else {
      const { at: onset, length, pitch, midi } = top;
      const { element, measure } = top.note;
      melody.push({ onset, length, pitch, midi, measure, isDetached: isDetached(element) });
    }
    notes.push({
      kind: "note",
      measure: top.note.measure,
      at: top.at,
      length: top.length,
      melodyNote: melody.length - 1,
      pitch: top.pitch,
      tiedOn: false,
      element: top.note.element,
    });
    before = top;
  }
  const rests = restsIn(part, notes, onLine);
  const graces = gracesOf(onLine, findings);
  return { melody, written: [...graces, ...rests, ...notes].sort(asPlayed) };
}

/** Articulations after which there is a silence. Common practice. */
const DETACHING = ["staccato", "staccatissimo", "spiccato", "detached-legato", "breath-mark", "caesura"];

const isDetached = (note: XmlElement): boolean =>
  childrenNamed(note, "notations")
    .flatMap((notations) => childrenNamed(notations, "articulations"))
    .some((marks) => DETACHING.some((name) => childNamed(marks, name) !== undefined));

interface TopNote {
  readonly note: WalkedNote;
  readonly at: Quarters;
  readonly length: Quarters;
  readonly pitch: Pitch;
  readonly midi: number;
}

function topNotes(onLine: readonly LineNote[], findings: Findings): readonly TopNote[] {
  const tops = new Map<string, TopNote>();
  for (const note of onLine) {
    if (!isSung(note)) continue;
    const pitch = pitchOf(note, findings);
    if (pitch === undefined) continue;
    const midi = midiOf(pitch);
    const key = note.at.toFraction();
    const known = tops.get(key);
    if (known === undefined || midi > known.midi)
      tops.set(key, { note, at: note.at, length: note.length, pitch, midi });
  }
  return [...tops.values()].sort((a, b) => a.at.compare(b.at));
}

/** A note is read in the part it came from: its transposition, and its place in findings. */
const pitchOf = (note: LineNote, findings: Findings): Pitch | undefined =>
  soundingNote(note.from, { ...note, at: note.atThere }, findings);

/** One voice can only sound one note at a time: a note that runs into the next ends there. */
function withoutOverlaps(part: WalkedPart, tops: readonly TopNote[], findings: Findings): readonly TopNote[] {
  return tops.flatMap((top, index) => {
    const measure = part.measures[top.note.measure];
    const next = tops[index + 1]?.at ?? part.end;
    const measureEnd = measure === undefined ? part.end : measure.start.add(measure.length);
    const limit = next.lt(measureEnd) ? next : measureEnd;
    if (top.at.add(top.length).lte(limit)) return top.length.n === 0n ? [] : top;
    if (measure !== undefined) findings.add(noteRunsOn(part, measure, top.at));
    return limit.lte(top.at) ? [] : { ...top, length: limit.sub(top.at) };
  });
}

/** Rests of all measures. */
function restsIn(
  { measures }: WalkedPart,
  notes: readonly LineItem[],
  onLine: readonly WalkedNote[],
): readonly LineItem[] {
  const sung = byMeasure(notes);
  const silent = byMeasure(onLine.filter((note) => !note.isGrace && !isSung(note) && note.length.n > 0n));
  return measures.flatMap((measure) =>
    restsOf(measure, sung.get(measure.index) ?? [], silent.get(measure.index) ?? []),
  );
}

/** What fills the measure where the tune is silent: the rests that were written, else nothing's rest. */
function restsOf(
  measure: WalkedMeasure,
  notes: readonly LineItem[],
  silent: readonly WalkedNote[],
): readonly LineItem[] {
  const end = measure.start.add(measure.length);
  const silences = silent.toSorted((a, b) => a.at.compare(b.at));
  const rests: LineItem[] = [];
  const rest = (at: Quarters, length: Quarters, element: XmlElement | undefined): LineItem => ({
    kind: "rest",
    measure: measure.index,
    at,
    length,
    melodyNote: undefined,
    pitch: undefined,
    tiedOn: false,
    element,
  });
  let filled = measure.start;
  const fillGap = (until: Quarters) => {
    for (const silence of silences) {
      const silenceEnd = silence.at.add(silence.length);
      if (silence.at.lt(filled) || silenceEnd.gt(until)) continue;
      if (silence.at.gt(filled)) rests.push(rest(filled, silence.at.sub(filled), undefined));
      rests.push(rest(silence.at, silence.length, silence.element));
      filled = silenceEnd;
    }
    if (filled.lt(until)) rests.push(rest(filled, until.sub(filled), undefined));
  };
  for (const note of notes) {
    fillGap(note.at);
    filled = note.at.add(note.length);
  }
  fillGap(end);
  return rests;
}

function gracesOf(onLine: readonly LineNote[], findings: Findings): readonly LineItem[] {
  const graces: LineItem[] = [];
  for (const note of onLine) {
    if (!note.isGrace || note.isSilent) continue;
    const pitch = pitchOf(note, findings);
    if (pitch === undefined) continue;
    const grace: LineItem = {
      kind: "grace",
      measure: note.measure,
      at: note.at,
      length: note.length,
      melodyNote: undefined,
      pitch,
      tiedOn: false,
      element: note.element,
    };
    const last = graces.at(-1);
    const sharesStem = note.element.children.some(
      (child) => child.kind === "element" && child.name === "chord",
    );
    if (!sharesStem || last?.pitch === undefined) graces.push(grace);
    else if (midiOf(pitch) > midiOf(last.pitch)) graces[graces.length - 1] = grace;
  }
  return graces;
}

/** By measure first: a grace note at the very end of a measure stays in it. */
const asPlayed = (a: LineItem, b: LineItem): number =>
  a.measure - b.measure || a.at.compare(b.at) || Number(b.kind === "grace") - Number(a.kind === "grace");

const noteRunsOn = (part: WalkedPart, measure: WalkedMeasure, at: Quarters): Finding => ({
  rule: "note-runs-on",
  severity: "warning",
  place: placeIn(part, measure, at),
  found: "a note that is longer than the time to the next note or barline",
  expected: "one note at a time in one voice",
  message: "The note runs into what follows it in the same voice; it was ended there.",
});
