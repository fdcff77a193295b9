import { type Finding, type Findings, ScoreError } from "../../diagnostics.js";
import { namesChord } from "../chords/read-harmony.js";
import type { OwnMark } from "../round-trip/provenance.js";
import { partNames } from "../timeline/partwise.js";
import type { WalkedNote, WalkedPart } from "../timeline/walked-part.js";

/** Where the tune is. */
export interface MelodyLine {
  readonly part: WalkedPart;
  readonly staff: string;
  readonly voice: string;
}

/** A note that can be tune: pitched, with time of its own, and meant to be played. */
export const isSung = (note: WalkedNote): boolean => note.kind === "note" && !note.isGrace && !note.isSilent;

/**
 * Finds the tune: the part asked for, or the first one with notes to sing, one that carries chord symbols
 * before all others; of it the first staff, and of that the lowest voice that is there in most bars.
 *
 * @throws ScoreError "no-melody", "melody-part-unknown", "melody-voice-unknown"
 */
export function chooseMelody(
  parts: readonly WalkedPart[],
  asked: string,
  mark: OwnMark | undefined,
  findings: Findings,
): MelodyLine {
  const { part, voice } = asked === "auto" ? foundPart(parts, mark) : askedPart(parts, asked);
  const sung = part.notes.filter(isSung);
  const ownStaves = sung.filter((note) => !part.copyStaves.has(note.staff));
  const [first, ...others] = (ownStaves.length > 0 ? ownStaves : sung).map((note) => note.staff);
  if (first === undefined) throw noMelody(parts, part);
  const staff = others.reduce((lowest, other) => (inOrder(other, lowest) < 0 ? other : lowest), first);
  const onStaff = sung.filter((note) => note.staff === staff);
  if (voice !== undefined) {
    if (onStaff.some((note) => note.voice === voice)) return { part, staff, voice };
    const elsewhere = sung.find((note) => note.voice === voice);
    if (elsewhere === undefined) throw voiceUnknown(part, voice, sung);
    return { part, staff: elsewhere.staff, voice };
  }
  const chosen = mainVoice(onStaff);
  const left = sung.filter((note) => note.voice !== chosen || note.staff !== staff);
  const leftOut = left.filter((note) => !part.copyStaves.has(note.staff));
  if (leftOut.length > 0) findings.add(voicesLeftOut(part, chosen, leftOut));
  return { part, staff, voice: chosen };
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

function foundPart(
  parts: readonly WalkedPart[],
  mark: OwnMark | undefined,
): { readonly part: WalkedPart; readonly voice: string | undefined } {
  const notation = mark?.lead === "drop" ? parts.find(({ id }) => id === mark.parts[0]) : undefined;
  if (notation?.notes.some(isSung)) {
    // Written as voice 1; programs count voices from another number.
    const sung = notation.notes.filter(isSung);
    return { part: notation, voice: sung.some(({ voice }) => voice === "1") ? "1" : mainVoice(sung) };
  }
  const own = new Set(mark?.lead === "keep" ? mark.parts : []);
  const candidates = parts.filter(({ id }) => !own.has(id));
  const singing = candidates.filter(({ notes, copyStaves }) =>
    notes.some((note) => isSung(note) && !copyStaves.has(note.staff)),
  );
  const part =
    singing.find(({ harmonies }) => harmonies.some(({ element }) => namesChord(element))) ??
    singing[0] ??
    // Nothing but TAB: then that is the tune.
    candidates.find(({ notes }) => notes.some(isSung));
  if (part === undefined) throw noMelody(parts, undefined);
  return { part, voice: undefined };
}

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
  return { part, voice: asked.slice(colon + 1).trim() };
}

const noMelody = (parts: readonly WalkedPart[], part: WalkedPart | undefined) =>
  new ScoreError({
    rule: "no-melody",
    place: part === undefined ? {} : { part: part.id },
    found: parts.length === 0 ? "no parts" : `parts without pitched notes to sing: ${partNames(parts)}`,
    expected: "a part with the melody in it",
    message:
      parts.length === 0
        ? "There is no melody: the score has no parts."
        : `There is no melody: no pitched, visible notes in ${part === undefined ? "any part" : "the part asked for"} (${partNames(part === undefined ? parts : [part])}).`,
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
