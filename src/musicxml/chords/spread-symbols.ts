import type { Findings } from "../../diagnostics.js";
import { attributeOf } from "../../xml/xml-tree.js";
import { exactNumber } from "../numbers/read-number.js";
import { type Quarters, ZERO } from "../timeline/exact-time.js";
import { beatLength } from "../timeline/meter.js";
import {
  byMeasure,
  measureAt,
  placeIn,
  type WalkedItem,
  type WalkedMeasure,
  type WalkedNote,
  type WalkedPart,
} from "../timeline/walked-part.js";
import { chordsSpread } from "./harmony-findings.js";

/** A chord symbol that drives the harmony, with words for what it says: two that say the same are one. */
export interface DrivingSymbol {
  readonly item: WalkedItem;
  readonly says: string;
}

/** No bar is counted in more; one that is longer is no bar to spread chords over. */
const MOST_BEATS = 32;

/**
 * Chord symbols that stand on one beat and are meant for several, each at a time of its own. Some programs
 * hang a symbol on a note or rest only, and people then write the second chord of a long note beside the
 * first and draw it to the right; the public suite of MusicXML test files (71g) has them as "a harmony change
 * during a note". They are spread over the beats up to the bar's next chord: where one was
 * drawn to the right (`relative-x`) to the end of the bar, else only while the note under them lasts.
 * Where the beats cannot be shared out evenly the earlier chords get more. Where there are fewer beats
 * than chords they stay where they are.
 *
 * @param symbols in time order
 * @returns the new time of each symbol that moves
 */
export function spreadSymbols(
  symbols: readonly DrivingSymbol[],
  part: WalkedPart,
  findings: Findings,
): ReadonlyMap<WalkedItem, Quarters> {
  const moved = new Map<WalkedItem, Quarters>();
  const notes = byMeasure(part.notes);
  let start = 0;
  while (start < symbols.length) {
    const at = symbols[start]?.item.at;
    let end = start + 1;
    while (at !== undefined && symbols[end]?.item.at.equals(at)) end += 1;
    if (end - start > 1) spreadGroup(symbols.slice(start, end), symbols[end], part, notes, moved, findings);
    start = end;
  }
  return moved;
}

function spreadGroup(
  group: readonly DrivingSymbol[],
  next: DrivingSymbol | undefined,
  part: WalkedPart,
  notes: ReadonlyMap<number, readonly WalkedNote[]>,
  moved: Map<WalkedItem, Quarters>,
  findings: Findings,
): void {
  const at = group[0]?.item.at;
  const measure = at && measureAt(part, at);
  const end = measure?.start.add(measure.length);
  if (at === undefined || measure === undefined || end === undefined || at.gte(end)) return;
  const nextAt = next?.item.at.lt(end) ? next.item.at : end;
  const last = group.at(-1);
  // The last of them may stand on the next beat by itself as well: there it has its place.
  const isLastNext = last !== undefined && nextAt.lt(end) && last.says === next?.says;
  if (isLastNext) moved.set(last.item, nextAt);
  const own = isLastNext ? group.slice(0, -1) : group;
  const different = own.filter(({ says }, index) => says !== own[index - 1]?.says);
  if (different.length < 2) return;
  const until = isDrawnApart(own) ? nextAt : earlier(nextAt, noteEnd(notes.get(measure.index) ?? [], at));
  const beats = beatsFor(different.length, measure, at, until);
  if (beats === undefined) return;
  let place = at;
  for (const symbol of own) {
    const index = different.indexOf(symbol);
    if (index >= 0) place = beats[Math.ceil((index * beats.length) / different.length)] ?? place;
    moved.set(symbol.item, place);
  }
  const beatOf = ({ item }: DrivingSymbol) => placeIn(part, measure, moved.get(item) ?? at).beat ?? 1;
  findings.add(chordsSpread(different.map(beatOf), placeIn(part, measure, at)));
}

/** In tenths of a staff space by the standard; programs differ in the unit, so only the order counts. */
const drawnAt = ({ item }: DrivingSymbol): Quarters =>
  exactNumber("harmony@relative-x", attributeOf(item.element, "relative-x")) ?? ZERO;

const isDrawnApart = (group: readonly DrivingSymbol[]): boolean =>
  group.some((symbol, index) => drawnAt(symbol).gt(drawnAt(group[index - 1] ?? symbol)));

/** Where the longest note or rest of a measure that sounds at a time ends. */
const noteEnd = (notes: readonly WalkedNote[], at: Quarters): Quarters =>
  notes
    .filter((note) => note.at.lte(at))
    .reduce((end, note) => (note.at.add(note.length).gt(end) ? note.at.add(note.length) : end), at);

/**
 * A time and the beats after it, as far as they go: as the meter counts them, or in quarters where halves
 * are counted and too few. undefined where there are not enough.
 */
function beatsFor(
  count: number,
  measure: WalkedMeasure,
  from: Quarters,
  until: Quarters,
): readonly Quarters[] | undefined {
  const beat = beatLength(measure.meter);
  // A pickup begins in the middle of its bar: beats are counted from where the whole bar would.
  const origin = measure.start.sub(measure.missing);
  for (const step of beat.equals(2) ? [beat, beat.div(2)] : [beat]) {
    const beats = [from];
    let place = origin.add(from.sub(origin).div(step).floor().add(1).mul(step));
    for (; place.lt(until) && beats.length <= MOST_BEATS; place = place.add(step)) beats.push(place);
    if (beats.length >= count && beats.length <= MOST_BEATS) return beats;
  }
  return undefined;
}

const earlier = (one: Quarters, other: Quarters): Quarters => (one.lt(other) ? one : other);
