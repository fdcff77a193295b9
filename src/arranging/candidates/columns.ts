import type { Finger } from "../../guitar/grip.js";
import { holdingEffort } from "../../guitar/hand-effort.js";
import { chordIdentity } from "../../harmony/chord-identity.js";
import type { Chord } from "../../harmony/chord-tones.js";
import { type SupportPlan, supportPlan } from "../../harmony/support-plan.js";
import type { SoundingNote } from "../../song/voices.js";
import type { Avoided } from "../../wishes/avoided.js";
import { bassAgainCost } from "../costs/bass-again-cost.js";
import type { CostTable } from "../costs/cost-table.js";
import { gripAgainCost } from "../costs/grip-again-cost.js";
import { onRootCost } from "../costs/on-root-cost.js";
import { wideAtTempoCost } from "../costs/reach-cost.js";
import { releaseCost } from "../costs/release-cost.js";
import { ringingCost } from "../costs/ringing-cost.js";
import { melodyPlaceCost } from "../costs/voicing-cost.js";
import { ringingMelody } from "../events/ringing-melody.js";
import type { TuneEvent } from "../events/tune-events.js";
import { type Candidate, candidates } from "../grips/candidate.js";
import { type ColumnPart, columnOf, type PackedColumn, packedColumn } from "../grips/packed-column.js";
import { FEWEST_HELD } from "../grips/supports.js";
import { isQuick, type Texture } from "../textures/texture.js";
import type { BoardMemory } from "./board-memory.js";
import { againPart, type Holding, heldPart, heldWithMelodyPart } from "./held-grips.js";
import type { Ringing } from "./held-memory.js";
import { restChords, silence } from "./rest-chords.js";
import { type Fretboard, melodyPlaces, struckGrips } from "./struck-grips.js";
import { struckKept, struckPart, struckRows } from "./struck-rows.js";
import { aloneAmongVoices, sungGrips } from "./sung-grips.js";
import type { SungMemory } from "./sung-memory.js";
import { sungPitches } from "./sung-placements.js";

export interface ColumnWishes {
  readonly board: Fretboard;
  /** Notes in a grip, melody included. */
  readonly notes: "auto" | 3 | 4;
  readonly textureAt: (event: TuneEvent) => Texture;
  /** What the voices of an ensemble sound at an event, where nothing else is to; undefined anywhere else. */
  readonly sungAt: (event: TuneEvent) => readonly SoundingNote[] | undefined;
  /** What the player's wishes rule out at an event: known beforehand, so that grips without it are found. */
  readonly avoidedAt: (event: TuneEvent) => readonly Avoided[];
  /** What the player's wishes leave of an event's candidates, or put in their place. */
  readonly asWished: (event: TuneEvent, column: PackedColumn) => PackedColumn;
}

/** Everything that can be done at each event of a tune, one column an event, worked out as they are asked for. */
export function* columnsInTurn(
  events: readonly TuneEvent[],
  wishes: ColumnWishes,
  costs: CostTable,
  memory: BoardMemory,
  ofVoices: SungMemory,
): Generator<PackedColumn, void> {
  const { board, notes } = wishes;
  const { parts, struck } = memory;
  const columns: PackedColumn[] = [];
  const last = events.findLast((event) => event.note !== undefined);
  const hasEnding = events.some((event) => event.chord !== undefined && event.span !== last?.span);
  for (const [index, event] of events.entries()) {
    const isContinued = events[index + 1]?.isNoteOnset === false || !event.isNoteOnset;
    const texture = wishes.textureAt(event);
    const avoided = wishes.avoidedAt(event);
    const avoidedName = avoided.length === 0 ? "" : JSON.stringify(avoided);
    const fingersAllowed = avoided.length === 0 ? struck.fingersFor : undefined;
    const sung = wishes.sungAt(event);
    const column =
      sung !== undefined
        ? sungAgain(sung)
        : event.note === undefined
          ? packedColumn(resting())
          : joined(
              singleAt(event.note.midi),
              struckAt(event.note.midi),
              ...heldAt(event.note.midi),
              againAt(event.note.midi),
            );
    const wished = wishes.asWished(event, column);
    columns.push(wished);
    yield wished;

    /** The same is sung under the same note as often as a strain comes again; what stands before matters where it rings on. */
    function sungAgain(sounding: readonly SoundingNote[]): PackedColumn {
      const pitches = sungPitches(sounding, event.onset);
      const mayRingOn =
        pitches.some(({ isHeldOver }) => isHeldOver) || (event.note !== undefined && !event.isNoteOnset);
      const key = [
        event.note?.midi,
        JSON.stringify(pitches),
        event.isNoteOnset,
        event.seconds,
        event.chord && chordIdentity(event.chord),
        avoidedName,
        mayRingOn ? columns[index - 1] : undefined,
      ];
      return ofVoices.columns(key, () => packedColumn(sungColumn(sounding)));
    }

    /** The melody alone or over sung notes; nothing at all where the melody rests. */
    function sungColumn(sounding: readonly SoundingNote[]): readonly Candidate[] {
      const alone = aloneAmongVoices(event, sounding, costs);
      const before = columns[index - 1]?.candidates;
      return [
        ...(event.note === undefined
          ? silence(board, alone)
          : singleNotes(event.note.midi, board, alone, costs)),
        ...sungGrips(event, before, sounding, { ...board, avoided }, ofVoices.grips, costs),
      ];
    }

    function resting(): readonly Candidate[] {
      return struck.rests([event.chord && chordIdentity(event.chord), notes, avoidedName], () =>
        restChords(event, { ...board, avoided }, notes, costs, fingersAllowed),
      );
    }

    function joined(...all: readonly (ColumnPart | undefined)[]): PackedColumn {
      const given = all.filter((part) => part !== undefined);
      return memory.columns(given, () => columnOf(given));
    }

    function singleAt(melodyMidi: number): ColumnPart {
      const extra = texture.singleCost(event);
      return struck.singles([melodyMidi, extra], () => {
        const notesAlone = singleNotes(melodyMidi, board, extra, costs);
        return {
          attack: "single",
          grips: struck.grips,
          rows: notesAlone.map((one) => struck.grips.add({ ...one, supports: struck.shared(one.supports) })),
          costs: notesAlone.map(({ cost }) => cost),
        };
      });
    }

    function planUnder(chord: Chord, melodyMidi: number): SupportPlan {
      return supportPlan(chord, melodyMidi % 12, notes, event.isSuspended);
    }

    function nameOfPlan(chord: Chord, melodyMidi: number): readonly unknown[] {
      return [melodyMidi, chordIdentity(chord), notes, event.isSuspended];
    }

    function struckAt(melodyMidi: number): ColumnPart | undefined {
      const { chord } = event;
      const extra = texture.struckCost(event);
      if (chord === undefined || extra === undefined) return undefined;
      const isEnd = hasEnding && event.span === last?.span && (event.isChordChange || event === last);
      const key = [...nameOfPlan(chord, melodyMidi), avoidedName, isContinued, isEnd];
      const kept = struckKept(isContinued);
      const possible = struck.situations(key, () =>
        struckRows(
          board,
          struckGrips({ ...board, avoided }, melodyMidi, planUnder(chord, melodyMidi), costs, {
            fingersFor: fingersAllowed,
            // So many notes and no more are asked for where a triad or a seventh chord is taken through its inversions.
            lowestCost: (midi) =>
              notes === "auto" || isEnd ? onRootCost(midi, chord, isEnd, costs.voicing) : 0,
            kept,
          }),
          kept,
          struck,
        ),
      );
      const attack = event.isNoteOnset ? "struck" : "under";
      const seconds = toTenths(event.seconds, costs);
      return parts([possible, attack, extra, seconds], () =>
        struckPart(possible, attack, extra, seconds, costs),
      );
    }

    function againAt(melodyMidi: number): ColumnPart | undefined {
      const before = columns[index - 1];
      const { chord } = event;
      const extra = texture.struckCost(event);
      if (before === undefined || chord === undefined || extra === undefined) return undefined;
      if (!event.isNoteOnset || event.isChordChange) return undefined;
      const seconds = toTenths(event.seconds, costs);
      const noteBefore = events[index - 1]?.note;
      const sungBefore = noteBefore && noteBefore.midi % 12;
      const key = [before, ...nameOfPlan(chord, melodyMidi), extra, seconds, sungBefore, "again"];
      return parts(key, () => {
        const plan = planUnder(chord, melodyMidi);
        const bassCost = bassAgainCost(plan, seconds, costs);
        return againPart(
          {
            before,
            melodyMidi,
            askedClash: plan.askedClash,
            fewest: FEWEST_HELD,
            board,
            costs,
            held: memory.held,
          },
          {
            costOf: ({ degrees, midis }, strings) =>
              extra +
              gripAgainCost(degrees, strings, plan, sungBefore, costs) +
              bassCost(degrees[0], midis[0]),
            wideCost: (beyondMm) => wideAtTempoCost(beyondMm, seconds, costs.texture),
          },
        );
      });
    }

    /** Over what rings on of the event before: of its chord, and with its melody note where that may stay. */
    function heldAt(melodyMidi: number): readonly ColumnPart[] {
      const before = columns[index - 1];
      const { chord } = event;
      const cost = texture.heldCost(event);
      if (before === undefined || chord === undefined || cost === undefined) return [];
      if (!event.isNoteOnset || !event.mayBeHeldInto) return [];
      const noteShort = texture.noteShortCost(event);
      const seconds = toTenths(event.seconds, costs);
      // Under a note that passes by, one finger that stays is more than none.
      const fewest = isQuick(event, costs) ? 1 : FEWEST_HELD;
      const key = [before, ...nameOfPlan(chord, melodyMidi), cost, noteShort, seconds, fewest];
      const held = (partOf: (ringing: Ringing, holding: Holding) => ColumnPart): ColumnPart => {
        const plan = planUnder(chord, melodyMidi);
        return partOf(
          { before, melodyMidi, askedClash: plan.askedClash, fewest, board, costs, held: memory.held },
          {
            costOf: (degrees) => cost + ringingCost(degrees, plan, noteShort, seconds, costs.texture),
            wideCost: (beyondMm) => wideAtTempoCost(beyondMm, seconds, costs.texture),
            bassCost: bassAgainCost(plan, seconds, costs),
            worthOf: (degrees) => releaseCost(degrees, chord, costs.voicing),
          },
        );
      };
      const chordAlone = parts(key, () => held(heldPart));
      const melodyBefore = ringingMelody(events[index - 1], event);
      if (melodyBefore === undefined) return [chordAlone];
      const withMelody = (ringing: Ringing, holding: Holding) =>
        heldWithMelodyPart(ringing, melodyBefore, holding);
      return [chordAlone, parts([...key, melodyBefore.midi], () => held(withMelody))];
    }
  }
}

/** How long an event lasts, as exactly as the reach of a hand asks. */
const toTenths = (seconds: number, { texture }: CostTable): number =>
  Math.min(texture.calmSeconds, Math.round(seconds * 10) / 10);

/** The melody note alone, on each string and with each finger; over an open string the hand may wait elsewhere. */
export function singleNotes(
  melodyMidi: number,
  board: Fretboard,
  extraCost: number,
  costs: CostTable,
): readonly Candidate[] {
  const { instrument } = board;
  return melodyPlaces(board, melodyMidi).flatMap((place) => {
    const fingers: readonly Finger[] = place.fret === 0 ? [0] : [1, 2, 3, 4];
    return fingers.flatMap((finger) =>
      candidates(instrument, {
        attack: "single",
        strings: [place],
        fingers: [finger],
        midis: [melodyMidi],
        degrees: [],
        cost:
          holdingEffort(instrument, [place], [finger], costs.hand) +
          melodyPlaceCost(instrument, place, costs.voicing, true) +
          extraCost,
      }),
    );
  });
}
