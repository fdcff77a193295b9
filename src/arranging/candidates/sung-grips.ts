import { fingeringsOf, type SoundingString } from "../../guitar/fingering.js";
import type { Finger } from "../../guitar/grip.js";
import { holdingEffort } from "../../guitar/hand-effort.js";
import { beyondTempoReachMm } from "../../guitar/reach-at-tempo.js";
import { melodyDegree } from "../../harmony/melody-degree.js";
import type { SoundingNote } from "../../song/voices.js";
import { isFingerAvoided } from "../../wishes/avoided.js";
import type { CostTable } from "../costs/cost-table.js";
import { wideAtTempoCost } from "../costs/reach-cost.js";
import { rightHandCost } from "../costs/right-hand-cost.js";
import { melodyPlaceCost } from "../costs/voicing-cost.js";
import type { TuneEvent } from "../events/tune-events.js";
import { type Candidate, candidates, supportCount } from "../grips/candidate.js";
import type { Fretboard } from "./struck-grips.js";
import {
  type SungPitch,
  type SungPlacement,
  sungPitches,
  sungPlacements,
  sungPoints,
} from "./sung-placements.js";

/** Placements of a moment that are fingered, by what they leave out and move. */
const PLACEMENTS_FINGERED = 90;

/** Grips kept for each string and finger of the melody note, and in all where nothing follows from it. */
const KEPT_EACH_MELODY_FINGER = 22;

/** Work that is the same wherever the same is sung under the same note, shared by the events of a tune. */
export interface SungGripsSoFar {
  readonly fingered: Map<string, readonly FingeredVoices[]>;
}

interface FingeredVoices {
  readonly placement: SungPlacement;
  /** Of the voices, and of the melody over them where it sounds. */
  readonly strings: readonly SoundingString[];
  readonly fingers: readonly Finger[];
  readonly effort: number;
  /** How far its fingers are apart beyond what goes at tempo, mm. */
  readonly beyondTempoMm: number;
}

/** The same with some of it ringing on, and what that costs. */
interface SoundingVoices {
  readonly fingered: FingeredVoices;
  /** Strings that ring on. */
  readonly heldStrings: readonly number[];
  readonly attack: "held" | "struck" | "under";
  readonly cost: number;
}

/**
 * What can be done at a moment of an ensemble with the notes that its voices sound there and no others: the
 * melody with all of them or some, each struck or, where its singer holds it, ringing on from the grip before.
 */
export function sungGrips(
  event: TuneEvent,
  before: readonly Candidate[] | undefined,
  sounding: readonly SoundingNote[],
  board: Fretboard,
  soFar: SungGripsSoFar,
  costs: CostTable,
): readonly Candidate[] {
  const pitches = sungPitches(sounding, event.onset);
  const isShort = event.seconds < costs.sung.shortSeconds;
  const fingered = fingeredVoices(event.note?.midi, pitches, isShort, board, soFar, costs);
  const ringing = event.isNoteOnset || event.note === undefined ? undefined : melodiesOf(before ?? []);
  const there = pitches.some(({ isHeldOver }) => isHeldOver) ? supportsOf(before ?? []) : NOTHING;
  const possible = fingered
    .filter((one) => ringing === undefined || ringing.has(melodyKey(one)))
    .flatMap((one) => heldAndStruck(one, event, there, costs));
  return keptOf(possible).flatMap((one) => candidates(board.instrument, bareCandidate(one, event)));
}

/** What it costs that the melody is alone although others sing. */
export const aloneAmongVoices = (
  event: TuneEvent,
  sounding: readonly SoundingNote[],
  costs: CostTable,
): number =>
  sungPoints(
    [],
    event.note?.midi,
    sungPitches(sounding, event.onset),
    event.seconds < costs.sung.shortSeconds,
    costs.sung,
  );

function fingeredVoices(
  melodyMidi: number | undefined,
  pitches: readonly SungPitch[],
  isShort: boolean,
  board: Fretboard,
  soFar: SungGripsSoFar,
  costs: CostTable,
): readonly FingeredVoices[] {
  const key = JSON.stringify([melodyMidi, pitches, isShort, board.avoided ?? []]);
  const known = soFar.fingered.get(key);
  if (known !== undefined) return known;
  const { instrument, avoided = [] } = board;
  const list = sungPlacements(board, melodyMidi, pitches, isShort, costs.sung)
    .slice(0, PLACEMENTS_FINGERED)
    .flatMap((placement) => {
      const { melody, supports } = placement;
      const strings = supports.map(onString);
      if (melody !== undefined) strings.push(onString(melody));
      const melodyCost = melody === undefined ? 0 : melodyPlaceCost(instrument, melody, costs.voicing);
      const best = new Map<string, Pick<FingeredVoices, "fingers" | "effort">>();
      for (const fingers of fingeringsOf(instrument, strings)) {
        if (avoided.some((one) => fingers.some((finger) => isFingerAvoided(one, finger)))) continue;
        const effort = holdingEffort(instrument, strings, fingers, costs.hand) + melodyCost;
        // A voice that is held over needs the finger it had: the best of each such set of fingers stays.
        let name = melody === undefined ? "" : `${fingers.at(-1)}`;
        for (let index = 0; index < supports.length; index += 1)
          name += supports[index]?.sung.isHeldOver ? fingers[index] : "-";
        const rival = best.get(name);
        if (rival === undefined || effort < rival.effort) best.set(name, { fingers, effort });
      }
      return [...best.values()].map(
        ({ fingers, effort }): FingeredVoices => ({
          placement,
          strings,
          fingers,
          effort,
          beyondTempoMm: beyondTempoReachMm(instrument, strings, fingers),
        }),
      );
    });
  soFar.fingered.set(key, list);
  return list;
}

/** One grip with every choice of which held voices ring on and which are struck again. */
function heldAndStruck(
  fingered: FingeredVoices,
  event: TuneEvent,
  there: ReadonlySet<string>,
  costs: CostTable,
): readonly SoundingVoices[] {
  const { placement, fingers, effort, beyondTempoMm } = fingered;
  const { supports, melody, points } = placement;
  const wide = wideAtTempoCost(beyondTempoMm, event.seconds, costs.texture);
  const mayRing = supports.flatMap((placed, index) =>
    placed.sung.isHeldOver && there.has(supportKey(placed.string, placed.fret, fingers[index] ?? 0))
      ? [placed.string]
      : [],
  );
  return subsetsOf(mayRing).map((heldStrings): SoundingVoices => {
    const struck = supports.filter(({ string }) => !heldStrings.includes(string));
    const again = struck.filter(({ sung }) => !sung.begins).length;
    const silenced = supports.filter(
      ({ string, sung }) => heldStrings.includes(string) && sung.begins,
    ).length;
    const isHeld = supports.length > 0 && struck.length === 0;
    const isUnder = event.note !== undefined && !event.isNoteOnset;
    const isMelodyStruck = melody !== undefined && !isUnder;
    const together = isMelodyStruck ? [...struck, melody] : struck;
    const rightHand = rightHandCost(together, heldStrings, costs.sung);
    return {
      fingered,
      heldStrings,
      attack: isHeld ? "held" : isUnder ? "under" : "struck",
      cost: Math.round(
        points +
          effort +
          wide +
          rightHand +
          again * costs.sung.struckAgain +
          silenced * costs.sung.notStruckWhenSung,
      ),
    };
  });
}

function subsetsOf(strings: readonly number[]): readonly (readonly number[])[] {
  const [first, ...rest] = strings;
  if (first === undefined) return [[]];
  return subsetsOf(rest).flatMap((set) => [set, [first, ...set]]);
}

/** The cheapest of each string and finger of the melody note, so that whatever rings on finds its finger. */
function keptOf(possible: readonly SoundingVoices[]): readonly SoundingVoices[] {
  const counts = new Map<string, number>();
  return possible
    .toSorted((one, other) => one.cost - other.cost)
    .filter(({ fingered, attack, heldStrings }) => {
      const isRinging = attack === "held" || heldStrings.length > 0;
      const key = `${melodyKey(fingered)} ${isRinging}`;
      const count = counts.get(key) ?? 0;
      counts.set(key, count + 1);
      return count < KEPT_EACH_MELODY_FINGER;
    });
}

function bareCandidate(
  { fingered, heldStrings, attack, cost }: SoundingVoices,
  { note, chord }: TuneEvent,
): Parameters<typeof candidates>[1] {
  const { placement, strings, fingers } = fingered;
  const { supports, melody } = placement;
  const midis = supports.map(({ midi }) => midi);
  if (note !== undefined && melody !== undefined) midis.push(note.midi);
  return {
    attack,
    heldStrings: attack === "held" || heldStrings.length === 0 ? undefined : heldStrings,
    strings,
    fingers,
    midis,
    degrees: supports.map(({ midi }) => (chord === undefined ? "" : melodyDegree(chord, midi % 12).label)),
    lines: supports.map(({ sung, octaves }) => ({
      voice: sung.voice,
      octaves,
      pitch: sung.pitch,
      isBassLine: sung.isBassLine,
    })),
    cost,
  };
}

/** Nothing of it but the place: what else is known of a note is listed beside it. */
const onString = ({ string, fret }: SoundingString): SoundingString => ({ string, fret });

const NOTHING: ReadonlySet<string> = new Set();

const supportKey = (string: number, fret: number, finger: number): string => `${string}:${fret}:${finger}`;

const supportsOf = (before: readonly Candidate[]): ReadonlySet<string> =>
  new Set(
    before.flatMap((one) =>
      Array.from({ length: supportCount(one) }, (_, index) =>
        supportKey(one.strings[index]?.string ?? 0, one.strings[index]?.fret ?? 0, one.fingers[index] ?? 0),
      ),
    ),
  );

const melodiesOf = (before: readonly Candidate[]): ReadonlySet<string> =>
  new Set(
    before
      .filter((one) => one.degrees.length < one.strings.length)
      .map((one) => `${one.strings.at(-1)?.string} ${one.fingers.at(-1)}`),
  );

const melodyKey = ({ placement: { melody }, fingers }: FingeredVoices): string =>
  melody === undefined ? "" : `${melody.string} ${fingers.at(-1)}`;
