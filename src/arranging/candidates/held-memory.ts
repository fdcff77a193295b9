import { goTogether, isHoldable, type SoundingString } from "../../guitar/fingering.js";
import type { Finger } from "../../guitar/grip.js";
import { holdingEffort } from "../../guitar/hand-effort.js";
import type { Instrument } from "../../guitar/instrument.js";
import { beyondTempoReachMm } from "../../guitar/reach-at-tempo.js";
import { isUnwritten } from "../../guitar/unwritten-fingers.js";
import type { CostTable } from "../costs/cost-table.js";
import { LOW_MELODY_STRING, melodyPlaceCost, openStringsCost } from "../costs/voicing-cost.js";
import { handPlacesMm } from "../grips/candidate.js";
import { fingerUses } from "../grips/finger-use.js";
import { GripRows, noteNumber, VOICES } from "../grips/grip-rows.js";
import type { PackedColumn } from "../grips/packed-column.js";
import { withOneMore } from "../grips/small-lists.js";
import { FEWEST_HELD, type Supports, someSupports } from "../grips/supports.js";
import { type Fretboard, isClearOfMelody, melodyPlaces } from "./struck-grips.js";

/** A melody note over what sounds of the event before. */
export interface Ringing {
  readonly before: PackedColumn;
  readonly melodyMidi: number;
  /** Pitch class that the chord itself asks for a minor ninth under the melody: its root under its flat ninth. */
  readonly askedClash: number | undefined;
  /** So many supporting notes ring on at least, where the melody leaves room for more. */
  readonly fewest: number;
  readonly board: Fretboard;
  readonly costs: CostTable;
  readonly held: HeldGrips;
}

const isClashAsked = ({ melodyMidi, askedClash }: Ringing): boolean => (melodyMidi + 11) % 12 === askedClash;

/** A way to hold some supporting notes with a melody note over them, whatever the chord and the moment. */
export interface HeldGrip {
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

  /** So many supporting notes ring on at least under a melody note on one of its strings. */
  fewestUnder(ringing: Ringing): number {
    return Math.min(
      ...this.placesOf(ringing.melodyMidi, ringing.board).map((place) => fewestUnder(place, ringing)),
    );
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
    // What the melody leaves rings on over some of its chord: alone it would be one of two lines.
    const fewest = needed === 0 ? fewestUnder(place, ringing) : FEWEST_HELD;
    let isHeld = false;
    // What of the free ones has to go is in the way of a barre alone.
    for (let gone = 0; !isHeld && count - gone >= fewest; gone += 1) {
      for (const places of without(free, gone)) {
        if ((places & needed) !== needed) continue;
        const kept = this.some(earlier, places);
        const before = madeWith(kept, melody);
        if (before !== undefined) {
          found.push(before);
          isHeld = true;
          continue;
        }
        const strings = withOneMore(kept.supports.strings, place);
        const fingers = withOneMore(kept.supports.fingers, finger);
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
    const midis = withOneMore(kept.midis, melodyMidi);
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

/** Under a melody on the third string or a lower one there is little room: there one finger that stays is much. */
const fewestUnder = ({ string }: SoundingString, { fewest }: Ringing): number =>
  string >= LOW_MELODY_STRING ? 1 : fewest;

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
