import type { Findings } from "../../diagnostics.js";
import { midiOf, type Pitch } from "../../song/pitch.js";
import type { XmlElement } from "../../xml/xml-tree.js";
import { timeIn } from "../chords/chord-spans.js";
import { soundingNote } from "../lead-sheet/sounding-note.js";
import type { Quarters } from "../timeline/exact-time.js";
import type { WalkedNote, WalkedPart } from "../timeline/walked-part.js";
import { groupedBy, linesOf } from "./lines-of-part.js";

/** One line of the score as it sounds: times in quarter notes of the bars of one part, ties joined. */
export interface SungVoice {
  readonly part: WalkedPart;
  /** "Tenor"; "Organ, voice 2"; "Choir, voice 1, second from the top" where chords stand in one voice. */
  readonly name: string;
  readonly notes: readonly SungVoiceNote[];
}

export interface SungVoiceNote {
  readonly onset: Quarters;
  readonly length: Quarters;
  readonly pitch: Pitch;
  readonly midi: number;
  /** The `<note>` elements it is written as. */
  readonly elements: readonly XmlElement[];
}

/**
 * Every line of the given parts, in the order of the score and of the pitch: each voice of each part once,
 * whatever staff its notes stand on, and each row of the chords in it. Staves that copy another, cue and
 * hidden notes and percussion are no voices; TAB alone is no copy.
 */
export function readVoices(
  parts: readonly WalkedPart[],
  bars: WalkedPart,
  findings: Findings,
): readonly SungVoice[] {
  const isTabAlone = parts.every((part) => linesOf(part).length === 0);
  return parts.flatMap((part) => {
    const lines = linesOf(part, isTabAlone);
    return lines.flatMap((line, index) => {
      const name = part.name === "" ? `Part ${part.id}` : part.name;
      const named = lines.length === 1 ? name : `${name}, voice ${line[0]?.voice ?? index + 1}`;
      return rowsOf(line).map((row, rank): SungVoice => {
        const notes = row.flatMap((note): readonly SungVoiceNote[] => {
          const pitch = soundingNote(part, note, findings);
          if (pitch === undefined || note.length.n <= 0n) return [];
          const onset = timeIn(bars, part, note.at);
          return [{ onset, length: note.length, pitch, midi: midiOf(pitch), elements: [note.element] }];
        });
        const ties = new Set(row.filter(({ startsTie }) => startsTie).map(({ element }) => element));
        return { part, name: rank === 0 ? named : `${named}, row ${rank + 1}`, notes: joined(notes, ties) };
      });
    });
  });
}

/** Notes struck together in one voice are rows of it, counted from the top. */
function rowsOf(line: readonly WalkedNote[]): readonly (readonly WalkedNote[])[] {
  const rows: WalkedNote[][] = [];
  for (const notes of groupedBy(line, ({ at }) => at.toFraction())) {
    const highestFirst = notes.toSorted((one, other) => height(other) - height(one));
    for (const [rank, note] of highestFirst.entries()) {
      const row = rows[rank] ?? [];
      rows[rank] = row;
      row.push(note);
    }
  }
  return rows.map((row) => row.toSorted((one, other) => one.at.compare(other.at)));
}

const height = ({ written }: WalkedNote): number => (written === undefined ? 0 : midiOf(written));

/** Tied notes are one, and a note ends where the next of its voice begins. */
function joined(
  notes: readonly SungVoiceNote[],
  startTies: ReadonlySet<XmlElement>,
): readonly SungVoiceNote[] {
  const whole: SungVoiceNote[] = [];
  for (const note of notes) {
    const before = whole.at(-1);
    const lastElement = before?.elements.at(-1);
    const isTied = lastElement !== undefined && startTies.has(lastElement);
    const touches = before?.onset.add(before.length).equals(note.onset) === true;
    if (before !== undefined && isTied && touches && before.midi === note.midi) {
      whole[whole.length - 1] = {
        ...before,
        length: before.length.add(note.length),
        elements: [...before.elements, ...note.elements],
      };
      continue;
    }
    if (before?.onset.add(before.length).gt(note.onset))
      whole[whole.length - 1] = { ...before, length: note.onset.sub(before.onset) };
    whole.push(note);
  }
  return whole.filter(({ length }) => length.n > 0n);
}
