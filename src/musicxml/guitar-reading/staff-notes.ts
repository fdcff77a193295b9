import type { Finger } from "../../guitar/grip.js";
import { midiOf, type Pitch } from "../../song/pitch.js";
import {
  attributeOf,
  childNamed,
  childrenNamed,
  elementsOf,
  textOf,
  type XmlElement,
} from "../../xml/xml-tree.js";
import { isLetRing, ringsBeyond } from "../guitar-writing/let-ring.js";
import { numberFrom } from "../numbers/read-number.js";
import type { Quarters } from "../timeline/exact-time.js";
import { shiftAt, soundingPitch } from "../timeline/transposition.js";
import type { WalkedNote, WalkedPart } from "../timeline/walked-part.js";

/** An attack on one staff, ties joined, with what the staff says about how it is played. */
export interface StaffNote {
  readonly kind: "note" | "grace";
  readonly at: Quarters;
  /** 0 for a grace note. */
  readonly length: Quarters;
  readonly measure: number;
  readonly voice: string;
  readonly pitch: Pitch;
  readonly midi: number;
  readonly string: number | undefined;
  readonly fret: number | undefined;
  readonly finger: Finger | undefined;
  readonly isHarmonic: boolean;
  /** A tie from it leads to nothing: it rings on. */
  readonly isLeftRinging: boolean;
  /** For how long beyond its length, where the tie was written here. */
  readonly ringsBeyond: Quarters | undefined;
}

/**
 * The attacks on one staff in time order. A tied note is part of the attack it continues: it has the same
 * pitch, begins where that ends, and says it ends a tie or stands in the same voice. Ties may cross voices,
 * since voices may have been renumbered.
 */
export function staffNotes(part: WalkedPart, staff: string): readonly StaffNote[] {
  const written = part.notes
    .filter((note) => note.staff === staff && note.kind === "note" && !note.isSilent)
    .filter((note) => note.isGrace || note.length.n > 0n)
    .sort((a, b) => a.measure - b.measure || a.at.compare(b.at) || Number(b.isGrace) - Number(a.isGrace));
  const attacks: StaffNote[] = [];
  let open: OpenTie[] = [];
  for (const note of written) {
    const read = readNote(part, note);
    if (read === undefined) continue;
    open = open.filter(({ end }) => end.gte(note.at));
    const tie = note.isGrace ? undefined : tieInto(open, note, read.midi);
    const attack = tie === undefined ? undefined : attacks[tie.attack];
    let index = attacks.length;
    if (tie !== undefined && attack !== undefined) {
      open.splice(open.indexOf(tie), 1);
      index = tie.attack;
      attacks[index] = {
        ...attack,
        length: attack.length.add(note.length),
        string: attack.string ?? read.string,
        fret: attack.fret ?? read.fret,
        finger: attack.finger ?? read.finger,
        isLeftRinging: read.isLeftRinging,
        ringsBeyond: read.ringsBeyond,
      };
    } else attacks.push(read);
    if (note.startsTie && !note.isGrace)
      open.push({ attack: index, midi: read.midi, end: note.at.add(note.length), voice: note.voice });
  }
  return attacks;
}

interface OpenTie {
  readonly attack: number;
  readonly midi: number;
  readonly end: Quarters;
  readonly voice: string;
}

function tieInto(open: readonly OpenTie[], note: WalkedNote, midi: number): OpenTie | undefined {
  const touching = open.filter((tie) => tie.midi === midi && tie.end.equals(note.at));
  const sameVoice = touching.find((tie) => tie.voice === note.voice);
  return sameVoice ?? (endsTie(note.element) ? touching[0] : undefined);
}

const endsTie = (note: XmlElement): boolean =>
  [...childrenNamed(note, "tie"), ...notationsIn(note).filter(({ name }) => name === "tied")].some(
    (tie) => attributeOf(tie, "type") === "stop",
  );

function readNote(part: WalkedPart, note: WalkedNote): StaffNote | undefined {
  if (note.written === undefined) return undefined;
  // A quarter tone is fingered as the semitone next to it.
  const written = { ...note.written, alter: Math.round(note.written.alter) };
  const pitch = soundingPitch(written, shiftAt(part.shifts, note.staff, note.at));
  const letRing = notationsIn(note.element).find(isLetRing);
  const technical = notationsIn(note.element)
    .filter(({ name }) => name === "technical")
    .flatMap(elementsOf);
  const markedNumber = (name: "string" | "fret" | "fingering"): number | undefined => {
    const mark = technical.find((one) => one.name === name);
    return mark === undefined ? undefined : numberFrom(name, textOf(mark));
  };
  const finger = markedNumber("fingering");
  const fret = markedNumber("fret");
  return {
    kind: note.isGrace ? "grace" : "note",
    at: note.at,
    length: note.length,
    measure: note.measure,
    voice: note.voice,
    pitch,
    midi: midiOf(pitch),
    string: markedNumber("string"),
    fret,
    finger: isFinger(finger) ? finger : undefined,
    isHarmonic: technical.some(({ name }) => name === "harmonic"),
    isLeftRinging: letRing !== undefined,
    ringsBeyond: letRing && ringsBeyond(letRing),
  };
}

const isFinger = (value: number | undefined): value is Finger =>
  value !== undefined && value >= 0 && value <= 4;

const notationsIn = (note: XmlElement): readonly XmlElement[] =>
  childNamed(note, "notations") === undefined ? [] : childrenNamed(note, "notations").flatMap(elementsOf);
