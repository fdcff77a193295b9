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

/** What was found of some supporting notes, so that it is looked up once for all that is asked of them. */
interface KnownSupports {
  readonly supports: Supports;
  /** Some of them, by a bit for each place. */
  readonly parts: (KnownSupports | undefined)[];
  /** What can be held of them, by melody note and what else was asked; the last asked first. */
  found: Found | undefined;
  /** All of them held with a melody note, by its place and finger; the last made first. */
  made: Made | undefined;
}

// Few are asked of the same supports: a chain is shorter to walk, and lighter, than a map is.
interface Found {
  readonly kind: number;
  readonly grips: readonly HeldGrip[];
  readonly next: Found | undefined;
}

interface Made {
  readonly melody: number;
  readonly grip: HeldGrip;
  readonly next: Made | undefined;
}

/** What can be held of which supporting notes, found once for each. */
export class HeldGrips {
  private readonly known = new Map<Supports, KnownSupports>();
  private readonly places = new Map<number, readonly SoundingString[]>();

  readonly grips = new GripRows();

  constructor(private readonly shared: (given: Supports) => Supports) {}

  /**
   * Everything of some supports that can be held under the melody note, for each of its places and fingers.
   *
   * @param isHighestHeld Only where the highest of them is.
   */
  over(given: Supports, ringing: Ringing, isHighestHeld: boolean): readonly HeldGrip[] {
    const earlier = this.knownOf(given);
    const asked = Number(isClashAsked(ringing)) * 2 + Number(isHighestHeld);
    const kind = (ringing.melodyMidi * FEWEST_HELD + ringing.fewest - 1) * 4 + asked;
    for (let one = earlier.found; one !== undefined; one = one.next) if (one.kind === kind) return one.grips;
    const needed = isHighestHeld ? 1 << (earlier.supports.strings.length - 1) : 0;
    const grips = this.worked(earlier, needed, ringing);
    earlier.found = { kind, grips, next: earlier.found };
    return grips;
  }

  /** The highest string that a melody note can be on. */
  highestString(melodyMidi: number, board: Fretboard): number {
    return Math.min(...this.placesOf(melodyMidi, board).map(({ string }) => string));
  }

  private placesOf(melodyMidi: number, board: Fretboard): readonly SoundingString[] {
    return entryOf(this.places, melodyMidi, () => melodyPlaces(board, melodyMidi));
  }

  private knownOf(given: Supports): KnownSupports {
    const before = this.known.get(given);
    if (before !== undefined) return before;
    const supports = this.shared(given);
    const known =
      (supports === given ? undefined : this.known.get(supports)) ??
      ({ supports, parts: [], found: undefined, made: undefined } satisfies KnownSupports);
    this.known.set(supports, known);
    if (supports !== given) this.known.set(given, known);
    return known;
  }

  /** @param needed Supports, a bit for each place, without which nothing is found. */
  private worked(earlier: KnownSupports, needed: number, ringing: Ringing): readonly HeldGrip[] {
    const found: HeldGrip[] = [];
    for (const place of this.placesOf(ringing.melodyMidi, ringing.board)) {
      for (const finger of place.fret === 0 ? OPEN : STOPPING) {
        const free = freeOf(earlier.supports, place, finger, ringing);
        if ((free & needed) === needed)
          this.addLargestHeld(found, earlier, free, needed, place, finger, ringing);
      }
    }
    return found;
  }

  /** Adds the largest sets of free supporting notes that a hand can hold with the melody note, as they are written. */
  private addLargestHeld(
    found: HeldGrip[],
    earlier: KnownSupports,
    free: number,
    needed: number,
    place: SoundingString,
    finger: Finger,
    ringing: Ringing,
  ): void {
    const { instrument } = ringing.board;
    const count = placesIn(free).length;
    const melody = noteNumber(place.string, place.fret, finger);
    let isHeld = false;
    // What of the free ones has to go is in the way of a barre alone.
    for (let gone = 0; !isHeld && count - gone >= ringing.fewest; gone += 1) {
      for (const places of without(free, gone)) {
        if ((places & needed) !== needed) continue;
        const kept = this.some(earlier, places);
        const before = madeWith(kept, melody);
        if (before !== undefined) {
          found.push(before);
          isHeld = true;
          continue;
        }
        const strings = kept.supports.strings.concat(place);
        const fingers = kept.supports.fingers.concat(finger);
        if (!isHoldable(instrument, strings, fingers)) continue;
        isHeld = true;
        if (isLaidOddly(kept.supports, strings, fingers, instrument)) continue;
        const grip = this.grip(kept.supports, strings, fingers, ringing);
        kept.made = { melody, grip, next: kept.made };
        found.push(grip);
      }
    }
  }

  /** Some supporting notes, a bit for each place. */
  private some(earlier: KnownSupports, kept: number): KnownSupports {
    const places = placesIn(kept);
    if (places.length === earlier.supports.strings.length) return earlier;
    earlier.parts[kept] ??= this.knownOf(someSupports(earlier.supports, places));
    return earlier.parts[kept];
  }

  /** Supporting notes that are kept, with the melody note the last of the strings. */
  private grip(
    kept: Supports,
    strings: readonly SoundingString[],
    fingers: readonly Finger[],
    { melodyMidi, board: { instrument }, costs }: Ringing,
  ): HeldGrip {
    const place = strings[strings.length - 1] ?? { string: 0, fret: 0 };
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
  }
}

function madeWith({ made }: KnownSupports, melody: number): HeldGrip | undefined {
  for (let one = made; one !== undefined; one = one.next) if (one.melody === melody) return one.grip;
  return undefined;
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
function isLaidOddly(
  kept: Supports,
  strings: readonly SoundingString[],
  fingers: readonly Finger[],
  instrument: Instrument,
): boolean {
  const finger = fingers[fingers.length - 1] ?? 0;
  const fret = strings[strings.length - 1]?.fret;
  return (
    finger > 1 &&
    (kept.fingers.includes(finger) ||
      kept.strings.some((note, index) => note.fret === fret && kept.fingers[index] === 1)) &&
    isUnwritten(instrument, strings, fingers)
  );
}

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
