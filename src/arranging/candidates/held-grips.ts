import type { Attack } from "../../arrangement/arrangement.js";
import { goTogether, isHoldable, type SoundingString } from "../../guitar/fingering.js";
import type { Finger } from "../../guitar/grip.js";
import { holdingEffort } from "../../guitar/hand-effort.js";
import type { Instrument } from "../../guitar/instrument.js";
import { beyondTempoReachMm } from "../../guitar/reach-at-tempo.js";
import { isUnwritten } from "../../guitar/unwritten-fingers.js";
import type { CostTable } from "../costs/cost-table.js";
import { melodyPlaceCost, openStringsCost } from "../costs/voicing-cost.js";
import type { RingingMelody } from "../events/ringing-melody.js";
import { handPlacesMm } from "../grips/candidate.js";
import { fingerUses } from "../grips/finger-use.js";
import { GripRows, melodyPlaceOf, NO_MELODY, noteNumber, VOICES } from "../grips/grip-rows.js";
import type { ColumnPart, PackedColumn } from "../grips/packed-column.js";
import { FEWEST_HELD, nameOfNote, type Supports, someSupports, withMelodyNote } from "../grips/supports.js";
import { type Fretboard, isClearOfMelody, melodyPlaces } from "./struck-grips.js";

/** Chords held from the event before that an event keeps. */
const HELD_KEPT = 150;

/** A melody note over what sounds of the event before. */
export interface Ringing {
  readonly before: PackedColumn;
  readonly melodyMidi: number;
  /** Pitch class that the chord itself asks for a minor ninth under the melody: its root under its flat ninth. */
  readonly askedClash: number | undefined;
  /** So many supporting notes ring on at least. */
  readonly fewest: number;
  readonly board: Fretboard;
  readonly costs: CostTable;
  readonly held: HeldGrips;
}

const isClashAsked = ({ melodyMidi, askedClash }: Ringing): boolean => (melodyMidi + 11) % 12 === askedClash;

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
  const { before, fewest, held } = ringing;
  const over = (earlier: Supports) => held.over(earlier, ringing, false);
  return partOf(differentSupports(before, fewest), over, priceOfHolding(holding), "held", HELD_KEPT, held);
}

/** Chords that an event keeps in which the melody note of before rings on. */
const RINGING_MELODY_KEPT = 40;

/**
 * The same with the melody note of before among what rings on: where the tune goes up to a higher string, no hand
 * lifts that finger by itself. So the chord keeps a tone that nothing else of it sounds.
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
      if (one === undefined) possible.set(grip, { grip, ...price(grip), from: [earlier.name] });
      else one.from.push(earlier.name);
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

/** A way to hold some supporting notes with a melody note over them, whatever the chord and the moment. */
interface HeldGrip {
  readonly kept: Supports;
  /** With the melody, the last. */
  readonly strings: readonly SoundingString[];
  /** Holding it, and where the melody and open strings are. */
  readonly cost: number;
  /** By how much it is wider than fingers go at tempo. */
  readonly beyondTempoMm: number;
  /** One, or one for each place to wait where only open strings sound. */
  readonly rows: readonly number[];
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
  for (let row = 0; row < before.size; row += 1) {
    if ((before.supports[row] ?? 0) < fewest || !isMeant(row)) continue;
    const supports = before.supportsAt(row);
    if (!different.has(supports.name)) different.set(supports.name, supports);
  }
  return different.values();
}

/** The same with the melody note over them, where that lies below a string and doubles none of them. */
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
    if (supports.degrees.includes(degree)) continue;
    const { string, fret, finger } = place;
    const name = supports.name + nameOfNote(string, fret, finger);
    if (!different.has(name))
      different.set(name, withMelodyNote(supports, { string, fret, finger: finger as Finger, midi, degree }));
  }
  return different.values();
}

/** What can be held of which supporting notes, found once for each. */
export class HeldGrips {
  private readonly sharedOf = new Map<Supports, Supports>();
  private readonly places = new Map<number, readonly SoundingString[]>();
  // By melody note and what is asked first: there are few of those, and each map has its price.
  private readonly found = new Map<number, Map<Supports, readonly HeldGrip[]>>();
  private readonly parts = new Map<Supports, Supports[]>();
  private readonly made = new Map<number, Map<Supports, HeldGrip>>();

  readonly grips = new GripRows();

  constructor(private readonly shared: (given: Supports) => Supports) {}

  /**
   * Everything of some supports that can be held under the melody note, for each of its places and fingers.
   *
   * @param isHighestHeld Only where the highest of them is.
   */
  over(given: Supports, ringing: Ringing, isHighestHeld: boolean): readonly HeldGrip[] {
    const earlier = entryOf(this.sharedOf, given, () => this.shared(given));
    const asked = Number(isClashAsked(ringing)) * 2 + Number(isHighestHeld);
    const kind = (ringing.melodyMidi * FEWEST_HELD + ringing.fewest - 1) * 4 + asked;
    const underMelody = entryOf(this.found, kind, () => new Map<Supports, readonly HeldGrip[]>());
    const needed = isHighestHeld ? 1 << (earlier.strings.length - 1) : 0;
    return entryOf(underMelody, earlier, () => this.worked(earlier, needed, ringing));
  }

  /** The highest string that a melody note can be on. */
  highestString(melodyMidi: number, board: Fretboard): number {
    return Math.min(...this.placesOf(melodyMidi, board).map(({ string }) => string));
  }

  private placesOf(melodyMidi: number, board: Fretboard): readonly SoundingString[] {
    return entryOf(this.places, melodyMidi, () => melodyPlaces(board, melodyMidi));
  }

  /** @param needed Supports, a bit for each place, without which nothing is found. */
  private worked(earlier: Supports, needed: number, ringing: Ringing): readonly HeldGrip[] {
    const { melodyMidi, fewest, board, costs } = ringing;
    const found: HeldGrip[] = [];
    for (const place of this.placesOf(melodyMidi, board)) {
      for (const finger of place.fret === 0 ? OPEN : STOPPING) {
        const free = freeOf(earlier, place, finger, ringing);
        if ((free & needed) !== needed) continue;
        for (const kept of this.largestKept(earlier, free, fewest, needed, place, finger, board.instrument)) {
          if (isLaidOddly(kept, place, finger, board.instrument)) continue;
          found.push(this.grip(kept, place, finger, melodyMidi, board.instrument, costs));
        }
      }
    }
    return found;
  }

  /** The largest sets of free supporting notes that a hand can hold with the melody note. */
  private largestKept(
    earlier: Supports,
    free: number,
    fewest: number,
    needed: number,
    place: SoundingString,
    finger: Finger,
    instrument: Instrument,
  ): readonly Supports[] {
    const all = placesIn(free);
    // What of the free ones has to go is in the way of a barre alone.
    for (let gone = 0; all.length - gone >= fewest; gone += 1) {
      const held: Supports[] = [];
      for (const places of without(free, gone)) {
        if ((places & needed) !== needed) continue;
        const kept = this.some(earlier, places);
        const isHeld = isHoldable(instrument, kept.strings.concat(place), kept.fingers.concat(finger));
        if (isHeld) held.push(kept);
      }
      if (held.length > 0) return held;
    }
    return NONE;
  }

  /** Some supporting notes, a bit for each place. */
  private some(earlier: Supports, kept: number): Supports {
    const places = placesIn(kept);
    if (places.length === earlier.strings.length) return earlier;
    const known = entryOf(this.parts, earlier, () => []);
    known[kept] ??= this.shared(someSupports(earlier, places));
    return known[kept];
  }

  private grip(
    kept: Supports,
    place: SoundingString,
    finger: Finger,
    melodyMidi: number,
    instrument: Instrument,
    costs: CostTable,
  ): HeldGrip {
    const melody = noteNumber(place.string, place.fret, finger);
    const underMelody = entryOf(this.made, melody, () => new Map<Supports, HeldGrip>());
    return entryOf(underMelody, kept, () => {
      const strings = kept.strings.concat(place);
      const fingers = kept.fingers.concat(finger);
      const midis = kept.midis.concat(melodyMidi);
      const uses = fingerUses(strings, fingers);
      return {
        kept,
        cost:
          holdingEffort(instrument, strings, fingers, costs.hand) +
          melodyPlaceCost(instrument, place, costs.voicing, true) +
          openStringsCost(strings, costs.voicing),
        strings,
        beyondTempoMm: beyondTempoReachMm(instrument, strings, fingers),
        rows: handPlacesMm(instrument, strings, fingers).map((placeMm) =>
          this.grips.add({ strings, fingers, midis, supports: kept, placeMm, fingerUses: uses }),
        ),
      };
    });
  }
}

/** What a map has under a key, made when it is first asked for. */
function entryOf<Key, Value>(map: Map<Key, Value>, key: Key, make: () => Value): Value {
  const known = map.get(key);
  if (known !== undefined) return known;
  const made = make();
  map.set(key, made);
  return made;
}

const OPEN: readonly Finger[] = [0];
const STOPPING: readonly Finger[] = [1, 2, 3, 4];

/**
 * The supporting notes, a bit for each place, whose string and finger a melody note leaves free, which do not clash with
 * it, and which a hand reaches together with it.
 */
function freeOf(earlier: Supports, place: SoundingString, finger: Finger, ringing: Ringing): number {
  const { melodyMidi, board } = ringing;
  let free = 0;
  for (let index = 0; index < earlier.strings.length; index += 1) {
    const { string, fret } = earlier.strings[index] ?? { string: 0, fret: 0 };
    const midi = earlier.midis[index] ?? 0;
    if (string <= place.string || midi >= melodyMidi || !isClearOfMelody(midi, melodyMidi, ringing)) continue;
    if (finger > 0 && fret > 0) {
      const holding = earlier.fingers[index] ?? 0;
      const isCrossed = fret === place.fret && holding > finger;
      if (
        isCrossed ||
        (holding === finger
          ? fret !== place.fret
          : !goTogether(board.instrument, fret, holding, place.fret, finger))
      )
        continue;
    }
    free |= 1 << index;
  }
  return free;
}

/**
 * Whether another finger than the index would stop the melody as hardly anyone writes it: lying down across another string
 * as well, or pressed down beside the index finger at the lowest fret, where that could lie down.
 */
const isLaidOddly = (
  { strings, fingers }: Supports,
  place: SoundingString,
  finger: Finger,
  instrument: Instrument,
): boolean =>
  finger > 1 &&
  (fingers.includes(finger) ||
    strings.some(({ fret }, index) => fret === place.fret && fingers[index] === 1)) &&
  isUnwritten(instrument, strings.concat(place), fingers.concat(finger));

const NONE: readonly Supports[] = [];

const places: (readonly number[])[] = [];

/** The places that have a bit in a number. */
function placesIn(bits: number): readonly number[] {
  places[bits] ??= [...Array(VOICES).keys()].filter((place) => (bits & (1 << place)) !== 0);
  return places[bits];
}

const fewer: (readonly number[])[][] = [];

/** Every set of places, a bit for each, with as many of them left out as are to go: the first ones first. */
function without(bits: number, gone: number): readonly number[] {
  fewer[bits] ??= [[bits]];
  const known = fewer[bits];
  known[gone] ??= placesIn(bits).flatMap((place) => {
    const upTo = bits & ((2 << place) - 1);
    return without(bits & ~upTo, gone - 1).map((rest) => (upTo & ~(1 << place)) | rest);
  });
  return known[gone];
}
