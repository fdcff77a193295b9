import { isHoldable, type SoundingString } from "../guitar/fingering.js";
import type { Finger } from "../guitar/grip.js";
import { holdingEffort } from "../guitar/hand-effort.js";
import { fretPositionMm } from "../guitar/instrument.js";
import { melodyDegree } from "../harmony/melody-degree.js";
import { supportPlan } from "../harmony/support-plan.js";
import { type Candidate, candidate } from "./candidate.js";
import type { CostTable } from "./cost-table.js";
import { type Fretboard, melodyPlaces, type StruckGrip, struckGrips } from "./struck-grips.js";
import type { Texture } from "./texture.js";
import type { TuneEvent } from "./tune-events.js";

/** Struck grips an event keeps, cheapest by themselves: tens of shapes with their fingers. */
const STRUCK_KEPT = 90;
/** Chords held from the event before that an event keeps. */
const HELD_KEPT = 90;
/** Where a hand may wait while only open strings sound: the index finger at one of these frets. */
const WAITING_FRETS = [1, 3, 5, 7, 9, 12];

/** Everything that can be done at each event of a tune, one column an event. */
export function columnsFor(
  events: readonly TuneEvent[],
  board: Fretboard,
  texture: Texture,
  costs: CostTable,
): readonly (readonly Candidate[])[] {
  const gripsUnder = rememberedGrips(board, texture.notes, costs);
  const columns: Candidate[][] = [];
  events.forEach((event, index) => {
    const isContinued = events[index + 1]?.isNoteOnset === false || !event.isNoteOnset;
    const column = singleNotes(event, board, texture, costs);
    if (event.chord !== undefined) {
      const struck = gripsUnder(event).slice(0, isContinued ? undefined : STRUCK_KEPT);
      const extra = texture.struckCost(event);
      const attack = event.isNoteOnset ? "struck" : "under";
      for (const grip of struck)
        column.push(candidate(board.instrument, { ...grip, attack, cost: grip.cost + extra }));
    }
    const before = columns[index - 1];
    const heldCost = texture.heldCost(event);
    if (before !== undefined && heldCost !== undefined && event.isNoteOnset && event.mayBeHeldInto) {
      column.push(...heldOver(before, event, board, costs, heldCost));
    }
    columns.push(column);
  });
  return columns;
}

/** The melody note alone, on each string and with each finger; over an open string the hand may wait anywhere. */
function singleNotes(event: TuneEvent, board: Fretboard, texture: Texture, costs: CostTable): Candidate[] {
  const { instrument } = board;
  return melodyPlaces(board, event.note.midi).flatMap((place) => {
    const fingers: readonly Finger[] = place.fret === 0 ? [0] : [1, 2, 3, 4];
    const single = (finger: Finger): Candidate =>
      candidate(instrument, {
        attack: "single",
        strings: [place],
        fingers: [finger],
        midis: [event.note.midi],
        degrees: [],
        cost:
          holdingEffort(instrument, [place], [finger], costs.hand) +
          (costs.voicing.melodyString[place.string - 1] ?? 0) +
          texture.singleCost(event),
      });
    if (place.fret > 0) return fingers.map(single);
    return WAITING_FRETS.map((fret) => ({ ...single(0), placeMm: fretPositionMm(instrument, fret) }));
  });
}

/** Grips by melody pitch and chord, found once a tune. */
function rememberedGrips(
  board: Fretboard,
  notes: "auto" | 3 | 4,
  costs: CostTable,
): (event: TuneEvent) => readonly StruckGrip[] {
  const known = new Map<string, readonly StruckGrip[]>();
  return (event) => {
    if (event.chord === undefined) return [];
    const key = `${event.note.midi} ${JSON.stringify(event.chord.symbol)}`;
    const remembered = known.get(key);
    if (remembered !== undefined) return remembered;
    const plan = supportPlan(event.chord, event.note.midi % 12, notes);
    const grips = struckGrips(board, event.note.midi, plan, costs);
    known.set(key, grips);
    return grips;
  };
}

/**
 * The melody note over what rings on from the event before: its supporting notes stay under their
 * fingers, all of them or all but one, and the melody goes to a free string and finger.
 */
function heldOver(
  before: readonly Candidate[],
  event: TuneEvent,
  board: Fretboard,
  costs: CostTable,
  heldCost: number,
): readonly Candidate[] {
  const { instrument } = board;
  const melodyMidi = event.note.midi;
  const places = melodyPlaces(board, melodyMidi);
  const seen = new Set<string>();
  const held: Candidate[] = [];
  for (const earlier of before) {
    for (const kept of keptSupports(earlier)) {
      const supports = kept.map((index) => earlier.strings[index] ?? { string: 0, fret: 0 });
      const supportFingers = kept.map((index) => earlier.fingers[index] ?? 0);
      const supportMidis = kept.map((index) => earlier.midis[index] ?? 0);
      const key = supports.map((note, i) => `${note.string}:${note.fret}:${supportFingers[i]}`).join(" ");
      if (seen.has(key)) continue;
      seen.add(key);
      if (!ringsUnder(supportMidis, melodyMidi)) continue;
      const dropped = earlier.strings.length - 1 - kept.length;
      for (const place of places) {
        if (supports.some((note) => note.string <= place.string)) continue;
        const strings: readonly SoundingString[] = [...supports, place];
        for (const finger of place.fret === 0 ? ([0] as const) : ([1, 2, 3, 4] as const)) {
          const fingers = [...supportFingers, finger];
          if (!isHoldable(instrument, strings, fingers)) continue;
          held.push(
            candidate(instrument, {
              attack: "held",
              strings,
              fingers,
              midis: [...supportMidis, melodyMidi],
              degrees: kept.map((index) => earlier.degrees[index] ?? ""),
              cost:
                holdingEffort(instrument, strings, fingers, costs.hand) +
                (costs.voicing.melodyString[place.string - 1] ?? 0) +
                dropped * costs.voicing.droppedWhileHeld +
                heldCost,
            }),
          );
        }
      }
    }
  }
  return held.sort((a, b) => a.cost - b.cost).slice(0, HELD_KEPT);
}

/** Which supporting notes stay: all, or all but one while more than one is left. */
function keptSupports(earlier: Candidate): readonly (readonly number[])[] {
  const all = [...Array(earlier.strings.length - 1).keys()];
  if (all.length === 0) return [];
  return all.length < 3 ? [all] : [all, ...all.map((gone) => all.filter((index) => index !== gone))];
}

const ringsUnder = (supportMidis: readonly number[], melodyMidi: number): boolean =>
  supportMidis.every((midi) => midi < melodyMidi - 1 && melodyMidi - midi !== 13);

/** Degree label of the melody note over the chord in force. */
export const degreeOfMelody = (event: TuneEvent): string | undefined =>
  event.chord === undefined ? undefined : melodyDegree(event.chord, event.note.midi % 12).label;
