import { LETTERS, mod12, type Pitch, pitchNamed, semitonesAboveC, transposeName } from "../../song/pitch.js";
import type { Transposition } from "../../song/transposition.js";
import {
  attributeOf,
  childNamed,
  childText,
  element,
  elementsOf,
  everyNamed,
  holdsNamed,
  textOf,
  withChildren,
  withElements,
  type XmlElement,
} from "../../xml/xml-tree.js";
import { listedHarmony } from "../chords/listed-harmony.js";
import type { WrittenKey } from "../chords/read-harmony.js";
import { withoutSpelledNames } from "../chords/spelled-names.js";
import { movedTone } from "../guitar-writing/harmony-element.js";
import { movedKeySteps } from "../guitar-writing/key-and-time.js";
import { movedFifths } from "../guitar-writing/moved-name.js";
import { movedNumeral } from "../guitar-writing/moved-numeral.js";
import { numberFrom, numberIn } from "../numbers/read-number.js";
import { withAccidentals } from "./shown-accidentals.js";

/** Why a lead sheet cannot move along; undefined where it can. */
export function whyLeadStays(
  score: XmlElement,
  hasTypedChords: boolean,
  transposition: Transposition,
): string | undefined {
  if (hasTypedChords) return "its chords are text, which only mending makes chord symbols";
  // A fret is a place on a neck, and no interval moves it safely.
  if (holdsNamed(score, "fret")) return "it has frets of its own";
  const pitches = everyNamed(score, "pitch");
  if (pitches.some((pitch) => leavesOctaves(pitch, transposition)))
    return "some of its notes would lie beyond the octaves that a score can hold";
  // Between two semitones the even one is read, which is the other one after an odd move.
  if (transposition.semitones % 2 !== 0 && pitches.some(isHalfway))
    return "its quarter tones would be read otherwise there";
  return undefined;
}

const isHalfway = (pitch: XmlElement): boolean => Math.abs((numberIn(pitch, "alter") ?? 0) % 1) === 0.5;

/** Whether a note that can be read could not be any more. */
function leavesOctaves(pitch: XmlElement, transposition: Transposition): boolean {
  const moved = movedPitch(pitch, transposition);
  return numberIn(pitch, "octave") !== undefined && numberIn(moved, "octave") === undefined;
}

/** Whether a transposition leads to another key, and not by octaves only. */
export const isOtherKey = ({ semitones }: Transposition): boolean => mod12(semitones) !== 0;

/**
 * All parts of a score as they are written for another key: notes, key signatures, chord symbols, and the
 * accidentals that are shown. Diagrams of chords are left out, as they show grips of the old key.
 */
export function movedLead(score: XmlElement, transposition: Transposition): XmlElement {
  return withElements(score, (part) =>
    part.name === "part" ? withAccidentals(withFirstKey(movedIn(part, transposition), transposition)) : part,
  );
}

/**
 * A staff that begins without a key signature was written in one without sharps or flats; moved, it says which it is
 * written in now.
 */
function withFirstKey(part: XmlElement, { interval }: Transposition): XmlElement {
  const first = childNamed(part, "measure");
  const fifths = movedFifths(0, interval);
  // A numeral is a degree of the key too.
  const isInKey = holdsNamed(part, "pitch") || holdsNamed(part, "numeral");
  if (first === undefined || fifths === 0 || !isInKey) return part;
  const keys = stavesWithoutKey(first).map((number) => {
    const mode = modeOf(first, number);
    return element("key", { number }, [
      element("fifths", {}, [fifths]),
      ...(mode === undefined ? [] : [mode]),
    ]);
  });
  if (keys.length === 0) return part;
  const attributes = childNamed(first, "attributes");
  const keyed =
    attributes === undefined
      ? withChildren(first, [element("attributes", {}, keys), ...first.children])
      : withElements(first, (child) => (child === attributes ? keysIn(attributes, keys) : child));
  return withElements(part, (child) => (child === first ? keyed : child));
}

/** Staves of a part for which its first measure has no key; undefined for all of them. */
function stavesWithoutKey(first: XmlElement): readonly (number | undefined)[] {
  const numbers = everyNamed(first, "key")
    .filter(saysKey)
    .map((key) => attributeOf(key, "number")?.trim());
  if (numbers.length === 0) return [undefined];
  if (numbers.includes(undefined)) return [];
  const [staves] = everyNamed(first, "staves");
  const count = Math.max(1, Math.min(MOST_STAVES, Number(staves && textOf(staves)) || 1));
  return Array.from({ length: count }, (_, index) => index + 1).filter(
    (staff) => !numbers.includes(String(staff)),
  );
}

/** An empty key, or one whose number cannot be read, is read as none. */
const saysKey = (key: XmlElement): boolean =>
  numberIn(key, "fifths") !== undefined || childNamed(key, "key-step") !== undefined;

/** Whether it is major or minor may be said all the same. */
const modeOf = (first: XmlElement, staff: number | undefined): XmlElement | undefined =>
  everyNamed(first, "key")
    .filter((key) => attributeOf(key, "number")?.trim() === staff?.toString())
    .map((key) => childNamed(key, "mode"))
    .find((mode) => mode !== undefined);

/** More are no part of a score that is played. */
const MOST_STAVES = 16;

/** Attributes with these keys instead of those that say none: divisions and editorial elements come before them, all else after. */
function keysIn(attributes: XmlElement, keys: readonly XmlElement[]): XmlElement {
  const children = attributes.children.filter(
    (child) => child.kind !== "element" || child.name !== "key" || saysKey(child),
  );
  const at = children.findLastIndex(
    (child) => child.kind === "element" && ["footnote", "level", "divisions"].includes(child.name),
  );
  return withChildren(attributes, [...children.slice(0, at + 1), ...keys, ...children.slice(at + 1)]);
}

const MOVING = new Set(["pitch", "key", "harmony"]);

/** Everything below an element that moves; what does not stays the very same. */
function movedIn(parent: XmlElement, to: Transposition): XmlElement {
  let isChanged = false;
  const children = parent.children.map((child) => {
    if (child.kind !== "element") return child;
    const moved = MOVING.has(child.name) ? movedElement(child, to) : movedIn(child, to);
    if (moved !== child) isChanged = true;
    return moved;
  });
  return isChanged ? withChildren(parent, children) : parent;
}

function movedElement(child: XmlElement, to: Transposition): XmlElement {
  if (child.name === "pitch") return movedPitch(child, to);
  return child.name === "key" ? movedKey(child, to) : movedHarmony(child, to);
}

function movedPitch(pitch: XmlElement, { interval, semitones }: Transposition): XmlElement {
  const letter = LETTERS.find((one) => one === childText(pitch, "step"));
  const octave = numberIn(pitch, "octave");
  const alter = numberIn(pitch, "alter") ?? 0;
  if (letter === undefined || octave === undefined) return pitch;
  // The fraction of a quarter tone goes along as it is.
  const whole = Math.floor(alter);
  const from: Pitch = { letter, alter: whole, octave };
  const name = transposeName(from, interval);
  const moved = pitchNamed(name, 12 * (octave + 1) + semitonesAboveC(from) + semitones);
  if (moved === undefined) return pitch;
  const sounding = moved.alter + alter - whole;
  return withInnerElements(pitch, [
    element("step", {}, [moved.letter]),
    ...(sounding === 0 ? [] : [element("alter", {}, [sounding])]),
    element("octave", {}, [moved.octave]),
  ]);
}

function movedKey(key: XmlElement, { interval }: Transposition): XmlElement {
  if (childNamed(key, "fifths") === undefined) return movedKeySteps(key, interval);
  return withElements(key, (child) => {
    if (child.name !== "fifths" && child.name !== "cancel") return child;
    // What cannot be read is read as no signature.
    const fifths = numberFrom("fifths", textOf(child)) ?? (child.name === "fifths" ? 0 : undefined);
    return fifths === undefined
      ? child
      : withChildren(child, element("", {}, [movedFifths(fifths, interval)]).children);
  });
}

/** The key decides nothing but the root of a numeral, which stays as it is. */
const NO_SIGNATURE: WrittenKey = { fifths: 0, mode: undefined };

function movedHarmony(harmony: XmlElement, { interval }: Transposition): XmlElement {
  const listed = listedHarmony(harmony, NO_SIGNATURE);
  const pieces = elementsOf(listed);
  return withElements(listed, (child) => {
    if (child.name === "frame") return undefined;
    const piece = withoutSpelledNames(pieces, child);
    if (piece.name === "root" || piece.name === "bass") return movedTone(piece, interval);
    return piece.name === "numeral" ? movedNumeral(piece, interval) : piece;
  });
}

/** With other children, on lines as the old ones were. */
function withInnerElements(parent: XmlElement, inner: readonly XmlElement[]): XmlElement {
  const [first] = parent.children;
  const last = parent.children.at(-1);
  const isOnLines = first?.kind === "text" && last?.kind === "text" && elementsOf(parent).length > 0;
  return withChildren(parent, isOnLines ? [...inner.flatMap((child) => [first, child]), last] : inner);
}
