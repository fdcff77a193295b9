import type { Attack } from "../../arrangement/arrangement.js";
import type { SoundingString } from "../../guitar/fingering.js";
import type { Finger } from "../../guitar/grip.js";
import type { RingingMelody } from "../events/ringing-melody.js";
import { melodyPlaceOf, NO_MELODY } from "../grips/grip-rows.js";
import type { ColumnPart, PackedColumn } from "../grips/packed-column.js";
import { FEWEST_HELD, nameOfNote, type Supports, withMelodyNote } from "../grips/supports.js";
import type { HeldGrip, HeldGrips, Ringing } from "./held-memory.js";

/** Chords held from the event before that an event keeps. */
const HELD_KEPT = 150;

/** What holding supporting notes is worth at a moment, in points. */
export interface Holding {
  /** Holding some of them, as the texture that is in force and their chord have it. */
  readonly costOf: (degrees: readonly string[]) => number;
  /** Fingers so many mm wider apart than they go at tempo. */
  readonly wideCost: (beyondMm: number) => number;
  /** A lowest note that goes on being heard, and is no bass. */
  readonly bassCost: (degree: string | undefined, midi: number | undefined) => number;
  /** What letting all of some supporting notes go would cost. */
  readonly worthOf: (degrees: readonly string[]) => number;
}

/**
 * A melody note over what rings on from the event before. A supporting note rings until its string or its
 * finger is needed or it would clash; then the rest of the chord stays. So for each place and finger of the
 * melody note everything stays that can, and where not all of it can be held together, as much as can.
 * Cheapest first, what was let go counted; its price belongs to the move, which knows what was let go.
 */
export function heldPart(ringing: Ringing, holding: Holding): ColumnPart {
  const { before, held } = ringing;
  const over = (earlier: Supports) => held.over(earlier, ringing, false);
  return partOf(
    differentSupports(before, held.fewestUnder(ringing)),
    over,
    priceOfHolding(holding),
    "held",
    HELD_KEPT,
    held,
  );
}

/** Chords that an event keeps in which the melody note of before rings on. */
const RINGING_MELODY_KEPT = 40;

/**
 * The same with the melody note of before among what rings on: where the tune goes up to a higher string, no hand
 * lifts that finger by itself.
 */
export function heldWithMelodyPart(
  ringing: Ringing,
  melodyBefore: RingingMelody,
  holding: Holding,
): ColumnPart {
  const { before, melodyMidi, board, held } = ringing;
  const over = (earlier: Supports) => held.over(earlier, ringing, true);
  const different = supportsWithMelody(before, melodyBefore, held.highestString(melodyMidi, board));
  return {
    ...partOf(different, over, priceOfHolding(holding), "held", RINGING_MELODY_KEPT, held),
    keepsMelody: true,
  };
}

/** What it costs to hold some grip, and what it is ranked by; worked out once for the same degrees. */
function priceOfHolding(holding: Holding): (grip: HeldGrip) => Price {
  const known = new Map<readonly string[], { readonly cost: number; readonly worth: number }>();
  const priceOf = (degrees: readonly string[]) => {
    let price = known.get(degrees);
    if (price === undefined) {
      price = { cost: holding.costOf(degrees), worth: holding.worthOf(degrees) };
      known.set(degrees, price);
    }
    return price;
  };
  return (grip) => {
    const { degrees, midis } = grip.kept;
    const { cost: ofDegrees, worth } = priceOf(degrees);
    const cost =
      grip.cost + ofDegrees + holding.wideCost(grip.beyondTempoMm) + holding.bassCost(degrees[0], midis[0]);
    return { cost, rank: cost - worth };
  };
}

/** Grips struck again under another melody note that an event keeps. */
const AGAIN_KEPT = 40;

/**
 * A melody note struck with the grip of the event before, all of it but what lies on the strings that the melody
 * takes: the hand stays where it is. Cheapest first.
 */
export function againPart(ringing: Ringing, { costOf, wideCost }: Again): ColumnPart {
  const { before, fewest, held } = ringing;
  const whole = (earlier: Supports) =>
    held.over(earlier, ringing, false).filter((grip) => {
      const melody = grip.strings.at(-1)?.string ?? 0;
      return grip.kept.strings.length >= earlier.strings.filter(({ string }) => string > melody).length;
    });
  const price = (grip: HeldGrip): Price => {
    const cost = grip.cost + costOf(grip.kept, grip.strings) + wideCost(grip.beyondTempoMm);
    return { cost, rank: cost };
  };
  const unthinned = differentSupports(before, fewest, (row) => before.isThinned[row] === 0);
  return partOf(unthinned, whole, price, "struck", AGAIN_KEPT, held);
}

/** What a grip struck again under another melody note is worth, in points. */
interface Again {
  readonly costOf: (kept: Supports, strings: readonly SoundingString[]) => number;
  /** Fingers so many mm wider apart than they go at tempo. */
  readonly wideCost: (beyondMm: number) => number;
}

/** What a way to hold costs, and what it is ranked by. */
type Price = Pick<Held, "cost" | "rank">;

/** The best ways to hold what can be held of some supports, each once with all it may come from, best first. */
function partOf(
  before: Iterable<Supports>,
  waysOver: (earlier: Supports) => readonly HeldGrip[],
  price: (grip: HeldGrip) => Price,
  attack: Attack,
  most: number,
  { grips }: HeldGrips,
): ColumnPart {
  const possible = new Map<HeldGrip, Held>();
  for (const earlier of before) {
    for (const grip of waysOver(earlier)) {
      const one = possible.get(grip);
      if (one !== undefined) {
        one.from.push(earlier.name);
        continue;
      }
      // Named one by one: the engine is slow at copying what another object has, and this is asked thousands of times a tune.
      const { cost, rank } = price(grip);
      possible.set(grip, { grip, cost, rank, from: [earlier.name] });
    }
  }
  const rows: number[] = [];
  const points: number[] = [];
  const heldFrom: (readonly string[])[] = [];
  for (const { grip, cost, from } of [...possible.values()].sort((a, b) => a.rank - b.rank).slice(0, most)) {
    for (const row of grip.rows) {
      rows.push(row);
      points.push(cost);
      heldFrom.push(from);
    }
  }
  return { attack, grips, rows, costs: points, heldFrom };
}

interface Held {
  readonly grip: HeldGrip;
  readonly cost: number;
  /** The cost less what would be paid for letting go of what is kept. */
  readonly rank: number;
  /** Names of the earlier supports of which nothing more can stay. */
  readonly from: string[];
}

/** The supporting notes of earlier grips that may ring on, each set of strings, frets and fingers once. */
function differentSupports(
  before: PackedColumn,
  fewest: number,
  isMeant: (row: number) => boolean = () => true,
): Iterable<Supports> {
  const different = new Map<string, Supports>();
  let last: Supports | undefined;
  for (let row = 0; row < before.size; row += 1) {
    if ((before.supports[row] ?? 0) < fewest || !isMeant(row)) continue;
    const supports = before.supportsAt(row);
    // Most stand under several places of the melody or the hand, one after the other.
    if (supports === last) continue;
    last = supports;
    if (!different.has(supports.name)) different.set(supports.name, supports);
  }
  return different.values();
}

/** The same with the melody note over them, where there is a string above it for the next. */
function supportsWithMelody(
  before: PackedColumn,
  { midi, degree }: RingingMelody,
  highestString: number,
): Iterable<Supports> {
  const different = new Map<string, Supports>();
  for (let row = 0; row < before.size; row += 1) {
    const place = melodyPlaceOf(before.melody[row] ?? NO_MELODY);
    if (place === undefined || place.string <= highestString) continue;
    if ((before.supports[row] ?? 0) < FEWEST_HELD - 1) continue;
    const supports = before.supportsAt(row);
    const { string, fret, finger } = place;
    const name = supports.name + nameOfNote(string, fret, finger);
    if (!different.has(name))
      different.set(name, withMelodyNote(supports, { string, fret, finger: finger as Finger, midi, degree }));
  }
  return different.values();
}
