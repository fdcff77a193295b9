import { Findings } from "../../diagnostics.js";
import { isSameSymbol } from "../../song/chord-symbol.js";
import { attributeOf, childText, type XmlElement } from "../../xml/xml-tree.js";
import { type Quarters, ZERO } from "../timeline/exact-time.js";
import { NO_SHIFT, type Shift, shiftAt } from "../timeline/transposition.js";
import { byMeasure, measureAt, placeIn, type WalkedItem, type WalkedPart } from "../timeline/walked-part.js";

import { chordAfterEnd, chordAtBarEnd, sameTimeChords } from "./harmony-findings.js";
import { listedHarmony } from "./listed-harmony.js";
import { type ReadChord, readHarmony, type WrittenKey } from "./read-harmony.js";
import { spreadSymbols } from "./spread-symbols.js";

/** A `<harmony>` with its time in the melody's part and what it says. */
export interface PlacedHarmony {
  readonly at: Quarters;
  /** Measure of the melody's part that this time is in, from 0. */
  readonly measure: number;
  /** What it says in MusicXML's own words, as far as they can be found. */
  readonly element: XmlElement;
  /** The same as it came: in the file, or made from a text. */
  readonly source: XmlElement;
  /** How its root and bass move from written to sounding. */
  readonly shift: Shift;
  /** The key that it was read in, as written. */
  readonly key: WrittenKey;
  /** undefined where it drives nothing: an alternate, an analysis, a second one at its time. */
  readonly chord: ReadChord | undefined;
}

/** The written key in force at a time of the harmony's own part. */
export type KeyAt = (at: Quarters) => WrittenKey;

/**
 * The chord symbols of a part in time order, moved to the melody's bars where they are of another part.
 * Of several at one time one drives the harmony.
 */
export function placeHarmonies(
  harmonies: readonly WalkedItem[],
  part: WalkedPart,
  melodyPart: WalkedPart,
  keyAt: KeyAt,
  findings: Findings,
): readonly PlacedHarmony[] {
  const hasOthers = harmonies.some((item) => !isAlternate(item));
  const inMeasures = byMeasure(harmonies);
  const placed: PlacedHarmony[] = [];
  let driving: { readonly at: Quarters; readonly rank: number; readonly index: number } | undefined;
  for (const item of withPlacesOfTheirOwn(harmonies, part, keyAt, findings)) {
    const at = timeIn(melodyPart, part, item.at);
    const staff = childText(item.element, "staff") || "1";
    const shift = shiftAt(part.shifts, staff, item.at);
    const measureThere = measureAt(melodyPart, at)?.index ?? 0;
    const key = keyAt(item.at);
    const silent = {
      at,
      measure: measureThere,
      element: listedHarmony(item.element, key),
      source: item.element,
      shift,
      key,
      chord: undefined,
    };
    const measure = part.measures[item.measure];
    if (measure === undefined || (hasOthers && isAlternate(item))) {
      placed.push(silent);
      continue;
    }
    const place = placeIn(part, measure, item.at);
    const chord = readHarmony(item.element, shift, key, place, findings);
    if (chord === undefined) {
      placed.push(silent);
      continue;
    }
    if (at.gte(melodyPart.end)) {
      findings.add(chordAfterEnd(place));
      placed.push(silent);
      continue;
    }
    if (item.at.equals(measure.start.add(measure.length))) {
      const inNext = inMeasures.get(item.measure + 1) ?? [];
      const nextHasOwn = inNext.some((other) => other.at.equals(item.at) && !isAlternate(other));
      findings.add(chordAtBarEnd(!nextHasOwn, place));
      // It has no place of its own: beside the next bar's symbol it would be read in its stead.
      if (nextHasOwn) continue;
    }
    const rank = attributeOf(item.element, "type") === "implied" ? 1 : 0;
    const rival = driving?.at.equals(at) ? driving : undefined;
    const rivalChord = rival === undefined ? undefined : placed[rival.index];
    if (rival === undefined || rivalChord === undefined) {
      driving = { at, rank, index: placed.length };
      placed.push({ ...silent, chord });
    } else if (rank < rival.rank) {
      placed[rival.index] = { ...rivalChord, chord: undefined };
      driving = { at, rank, index: placed.length };
      placed.push({ ...silent, chord });
    } else {
      const isSame = isSameChord(rivalChord.chord, chord);
      if (rank === rival.rank && !isSame) findings.add(sameTimeChords(place));
      placed.push(silent);
    }
  }
  return placed;
}

const isAlternate = ({ element }: WalkedItem): boolean => attributeOf(element, "type") === "alternate";

/** The symbols with those apart that stand on one beat and are meant for several, in time order. */
function withPlacesOfTheirOwn(
  harmonies: readonly WalkedItem[],
  part: WalkedPart,
  keyAt: KeyAt,
  findings: Findings,
): readonly WalkedItem[] {
  const isShared = ({ at }: WalkedItem, index: number) =>
    harmonies[index - 1]?.at.equals(at) === true || harmonies[index + 1]?.at.equals(at) === true;
  if (!harmonies.some(isShared)) return harmonies;
  // Reading takes long: of those that have a beat to themselves only the next after a shared one matters.
  let isNextAwaited = false;
  const driving = harmonies.flatMap((item, index) => {
    const shares = isShared(item, index);
    if (!shares && !isNextAwaited) return [];
    const type = attributeOf(item.element, "type");
    // What is wrong with a symbol is said once, where it is placed.
    const chord = readHarmony(item.element, NO_SHIFT, keyAt(item.at), {}, new Findings());
    const measure = part.measures[item.measure];
    const isAfterBar = measure === undefined || item.at.gte(measure.start.add(measure.length));
    if (type === "alternate" || type === "implied" || chord === undefined || isAfterBar) return [];
    isNextAwaited = shares;
    return [{ item, says: JSON.stringify(chord) }];
  });
  const moved = spreadSymbols(driving, part, findings);
  return harmonies
    .map((item) => ({ ...item, at: moved.get(item) ?? item.at }))
    .sort((one, other) => one.at.compare(other.at));
}

const isSameChord = (one: ReadChord | undefined, other: ReadChord): boolean =>
  one === "no-chord" || other === "no-chord" ? one === other : isSameSymbol(one, other);

/** A time of one part in the bars of another: the same place in the same bar. */
export function timeIn(target: WalkedPart, source: WalkedPart, at: Quarters): Quarters {
  if (source === target) return at.lt(0) ? ZERO : at;
  const from = measureAt(source, at) ?? source.measures[0];
  if (from === undefined) return ZERO;
  const to = target.measures[from.index];
  if (to === undefined) return target.end;
  const moved = to.start.add(at.sub(from.start));
  return moved.lt(0) ? ZERO : moved;
}
