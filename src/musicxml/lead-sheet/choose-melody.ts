import { type Finding, type Findings, ScoreError } from "../../diagnostics.js";
import { linesOf, overlap } from "../ensemble/lines-of-part.js";
import { melodyFound, standsOut } from "../ensemble/part-that-stands-out.js";
import { topLine, topOfAll } from "../ensemble/top-line.js";
import type { OwnMark } from "../round-trip/provenance.js";
import { partNames } from "../timeline/partwise.js";
import { hasOwnMusic, type WalkedNote, type WalkedPart } from "../timeline/walked-part.js";
import { isSung, type MelodyLine, TOP } from "./sung-line.js";

/**
 * Finds the tune: the part asked for, or the one that stands out (`foundPart`); of it the first staff, and
 * of that the lowest voice that is there in most bars. "top" in the place of the voice is the highest note
 * of the part at any time; without a part, that of the whole score.
 *
 * @throws ScoreError "no-melody", "melody-part-unknown", "melody-voice-unknown"
 */
export function chooseMelody(
  parts: readonly WalkedPart[],
  asked: string,
  mark: OwnMark | undefined,
  findings: Findings,
): MelodyLine {
  if (isTopOfAll(parts, asked)) {
    const [first, ...others] = singing(withoutOwn(parts, mark));
    if (first === undefined) throw noMelody(parts, undefined);
    return topOfAll(first, others);
  }
  const { part, voice } = asked === "auto" ? foundPart(parts, mark, findings) : askedPart(parts, asked);
  const sung = part.notes.filter(isSung);
  const ownStaves = sung.filter((note) => hasOwnMusic(part, note.staff));
  const [first, ...others] = (ownStaves.length > 0 ? ownStaves : sung).map((note) => note.staff);
  if (first === undefined) throw noMelody(parts, part);
  const staff = others.reduce((lowest, other) => (inOrder(other, lowest) < 0 ? other : lowest), first);
  const onStaff = sung.filter((note) => note.staff === staff);
  if (voice !== undefined) {
    if (onStaff.some((note) => note.voice === voice)) return lineOf(part, staff, voice);
    const elsewhere = sung.find((note) => note.voice === voice);
    if (elsewhere !== undefined) return lineOf(part, elsewhere.staff, voice);
    if (voice === TOP) return topLine(part, staff, linesOf(part));
    throw voiceUnknown(part, voice, sung);
  }
  const chosen = mainVoice(onStaff);
  const line = lineOf(part, staff, chosen);
  const onLine = new Set(line.notes.map(({ element }) => element));
  const leftOut = ownStaves.filter(({ element }) => !onLine.has(element));
  if (leftOut.length > 0) findings.add(voicesLeftOut(part, chosen, leftOut));
  return line;
}

/** One voice of a part, with the notes that it writes on another staff where that staff leaves them alone. */
function lineOf(part: WalkedPart, staff: string, voice: string): MelodyLine {
  const inVoice = part.notes.filter((note) => note.voice === voice && hasOwnMusic(part, note.staff));
  const own = part.notes.filter((note) => note.voice === voice && note.staff === staff);
  const away = inVoice.filter((note) => note.staff !== staff && isSung(note));
  const crosses = away.length > 0 && !overlap(own.filter(isSung), away);
  const notes = crosses ? inVoice.filter((note) => note.staff === staff || isSung(note)) : own;
  return { part, staff, voice, notes: notes.map((note) => ({ ...note, from: part, atThere: note.at })) };
}

/** Voices and staves are labels: "2" before "10", as numbers. */
const inOrder = (a: string, b: string): number => a.length - b.length || (a < b ? -1 : a > b ? 1 : 0);

function mainVoice(notes: readonly WalkedNote[]): string {
  const bars = new Map<string, Set<number>>();
  for (const note of notes) {
    const known = bars.get(note.voice) ?? new Set();
    bars.set(note.voice, known.add(note.measure));
  }
  const most = Math.max(...[...bars.values()].map((measures) => measures.size));
  const present = [...bars]
    .filter(([, { size }]) => size * 2 > most || size === most)
    .map(([voice]) => voice);
  return present.sort(inOrder)[0] ?? "1";
}

/**
 * The part that holds the tune: one that carries chord symbols before all others; where none does and there
 * are several, the only one with words to sing, else the one whose notes are highest most of the time.
 */
function foundPart(
  parts: readonly WalkedPart[],
  mark: OwnMark | undefined,
  findings: Findings,
): { readonly part: WalkedPart; readonly voice: string | undefined } {
  const notation = mark?.lead === "drop" ? parts.find(({ id }) => id === mark.parts[0]) : undefined;
  if (notation?.notes.some(isSung)) {
    // Written as voice 1; programs count voices from another number.
    const sung = notation.notes.filter(isSung);
    return { part: notation, voice: sung.some(({ voice }) => voice === "1") ? "1" : mainVoice(sung) };
  }
  const candidates = withoutOwn(parts, mark);
  const possible = singing(candidates);
  const found = standsOut(possible);
  if (found !== undefined) {
    if (possible.length > 1) findings.add(melodyFound(found, possible));
    return { part: found.part, voice: undefined };
  }
  // Nothing but TAB: then that is the tune.
  const part = candidates.find(({ notes }) => notes.some(isSung));
  if (part === undefined) throw noMelody(parts, undefined);
  return { part, voice: undefined };
}

const withoutOwn = (parts: readonly WalkedPart[], mark: OwnMark | undefined): readonly WalkedPart[] => {
  const own = new Set(mark?.lead === "keep" ? mark.parts : []);
  return parts.filter(({ id }) => !own.has(id));
};

const singing = (parts: readonly WalkedPart[]): readonly WalkedPart[] =>
  parts.filter((part) => part.notes.some((note) => isSung(note) && hasOwnMusic(part, note.staff)));

function askedPart(
  parts: readonly WalkedPart[],
  asked: string,
): { readonly part: WalkedPart; readonly voice: string | undefined } {
  const named = (text: string) =>
    parts.find(({ id }) => id === text.trim()) ??
    parts.find(({ name }) => name !== "" && name.toLowerCase() === text.trim().toLowerCase());
  const whole = named(asked);
  if (whole !== undefined) return { part: whole, voice: undefined };
  const colon = asked.lastIndexOf(":");
  const part = colon < 0 ? undefined : colon === 0 ? parts[0] : named(asked.slice(0, colon));
  if (part === undefined) throw partUnknown(parts, asked);
  const voice = asked.slice(colon + 1).trim();
  return { part, voice: voice.toLowerCase() === TOP ? TOP : voice };
}

const isTopOfAll = (parts: readonly WalkedPart[], asked: string): boolean =>
  asked.trim().toLowerCase() === TOP &&
  !parts.some(({ id, name }) => id.toLowerCase() === TOP || name.toLowerCase() === TOP);

const noMelody = (parts: readonly WalkedPart[], part: WalkedPart | undefined) =>
  new ScoreError({
    rule: "no-melody",
    place: part === undefined ? {} : { part: part.id },
    found: parts.length === 0 ? "no parts" : `parts without pitched notes to sing: ${partNames(parts)}`,
    expected: "a part with the melody in it",
    message:
      parts.length === 0
        ? "There is no melody: the score has no parts."
        : `There is no melody: no pitched, visible notes of any length in ${part === undefined ? "any part" : "the part asked for"} (${partNames(part === undefined ? parts : [part])}).`,
    hint: "Percussion, cue notes, hidden notes and slashes are no melody; write the tune as notes into one part.",
  });

const partUnknown = (parts: readonly WalkedPart[], asked: string) =>
  new ScoreError({
    rule: "melody-part-unknown",
    place: {},
    found: `the part "${asked}"`,
    expected: partNames(parts),
    message: `There is no part "${asked}"; the score has ${partNames(parts)}.`,
    hint: "Name one of these as the melody, or leave it to be found.",
  });

const voiceUnknown = (part: WalkedPart, voice: string, sung: readonly WalkedNote[]) => {
  const voices = [...new Set(sung.map((note) => note.voice))].sort(inOrder).join(", ");
  return new ScoreError({
    rule: "melody-voice-unknown",
    place: { part: part.id },
    found: `the voice "${voice}"`,
    expected: voices,
    message: `Part ${part.id} has no voice "${voice}" with notes to sing; it has ${voices}.`,
  });
};

const voicesLeftOut = (part: WalkedPart, chosen: string, notes: readonly WalkedNote[]): Finding => {
  const where = [...new Set(notes.map((note) => `voice ${note.voice} of staff ${note.staff}`))].sort();
  const count = `${notes.length} note${notes.length === 1 ? "" : "s"}`;
  return {
    rule: "voices-left-out",
    severity: "warning",
    place: { part: part.id },
    found: `${count} in ${where.join(", ")}`,
    expected: `the tune in voice ${chosen}`,
    message: `The tune was taken from voice ${chosen}; ${count} in ${where.join(", ")} ${notes.length === 1 ? "is" : "are"} not part of it.`,
    hint: "Name another voice with the option melody if the tune is there.",
  };
};
