import type { Finger } from "../../guitar/grip.js";
import { holdingEffort } from "../../guitar/hand-effort.js";
import type { Chord } from "../../harmony/chord-tones.js";
import { supportPlan } from "../../harmony/support-plan.js";
import type { SoundingNote } from "../../song/voices.js";
import type { Avoided } from "../../wishes/avoided.js";
import { type Candidate, candidates } from "../candidate.js";
import type { CostTable } from "../costs/cost-table.js";
import { wideAtTempoCost } from "../costs/reach-cost.js";
import { releaseCost } from "../costs/release-cost.js";
import { melodyPlaceCost } from "../costs/voicing-cost.js";
import type { Texture } from "../textures/texture.js";
import type { TuneEvent } from "../tune-events.js";
import { boardMemory } from "./board-memory.js";
import { remembered } from "./memo.js";
import { restChords, silence } from "./rest-chords.js";
import { type Fretboard, melodyPlaces, type StruckGrip, struckGrips } from "./struck-grips.js";
import { aloneAmongVoices, type SungGripsSoFar, sungGrips } from "./sung-grips.js";
import { heldGrips } from "./sustained-grips.js";

/** Struck grips an event keeps for each string that the melody may be on, cheapest by themselves. */
const STRUCK_KEPT = 30;

/** The same for each finger on each of those strings, where a note rings on over a change of chord and its finger decides. */
const STRUCK_KEPT_EACH_FINGER = 14;

/**
 * Grips dearer by more than this than the cheapest with the melody on the same string are left out, save for a
 * few: of 2,246 struck grips chosen in lead sheets none was dearer by more than 376 than its column's cheapest.
 */
const STRUCK_KEPT_WITHIN = 450;
const STRUCK_KEPT_AT_LEAST = 6;

const NOTHING: readonly Candidate[] = [];

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
  readonly asWished: (event: TuneEvent, candidates: readonly Candidate[]) => readonly Candidate[];
}

/** Everything that can be done at each event of a tune, one column an event. */
export function columnsFor(
  events: readonly TuneEvent[],
  wishes: ColumnWishes,
  costs: CostTable,
): readonly (readonly Candidate[])[] {
  const { board } = wishes;
  const memory = boardMemory(board, costs);
  const { grips, singles, struck, ringing, columns: together } = memory;
  const nameOfChord = remembered<string>();
  const chordName = (chord: Chord) => nameOfChord([chord], () => JSON.stringify(chord.symbol));
  const voices: SungGripsSoFar = { fingered: new Map() };
  const columns: (readonly Candidate[])[] = [];
  for (const [index, event] of events.entries()) {
    const isContinued = events[index + 1]?.isNoteOnset === false || !event.isNoteOnset;
    const texture = wishes.textureAt(event);
    const sung = wishes.sungAt(event);
    const column =
      sung !== undefined
        ? sungColumn(sung)
        : event.note === undefined
          ? restChords(event, { ...board, avoided: wishes.avoidedAt(event) }, wishes.notes, costs)
          : joined(
              singleAt(event.note.midi, texture.singleCost(event)),
              struckAt(event, event.note.midi),
              heldAt(event, event.note.midi),
            );
    columns.push(wishes.asWished(event, column));

    /** The melody alone or over sung notes; nothing at all where the melody rests. */
    function sungColumn(sounding: readonly SoundingNote[]): readonly Candidate[] {
      const here = { ...board, avoided: wishes.avoidedAt(event) };
      const alone = aloneAmongVoices(event, sounding, costs);
      return [
        ...(event.note === undefined
          ? silence(board, alone)
          : singleNotes(event.note.midi, board, alone, costs)),
        ...sungGrips(event, columns[index - 1], sounding, here, voices, costs),
      ];
    }

    function joined(...parts: readonly (readonly Candidate[])[]): readonly Candidate[] {
      return together(parts, () => parts.flat());
    }

    function gripsUnder(at: TuneEvent, chord: Chord, melodyMidi: number): readonly StruckGrip[] {
      const avoided = wishes.avoidedAt(at);
      return grips([melodyMidi, chordName(chord), wishes.notes, JSON.stringify(avoided)], () =>
        struckGrips(
          { ...board, avoided },
          melodyMidi,
          supportPlan(chord, melodyMidi % 12, wishes.notes),
          costs,
        ),
      );
    }

    function singleAt(melodyMidi: number, extra: number): readonly Candidate[] {
      return singles([melodyMidi, extra], () => singleNotes(melodyMidi, board, extra, costs));
    }

    function struckAt(at: TuneEvent, melodyMidi: number): readonly Candidate[] {
      const extra = texture.struckCost(at);
      if (at.chord === undefined || extra === undefined) return NOTHING;
      const attack = at.isNoteOnset ? "struck" : "under";
      const possible = gripsUnder(at, at.chord, melodyMidi);
      const haste = Math.min(costs.texture.calmSeconds, Math.round(at.seconds * 10) / 10);
      return struck([possible, attack, isContinued, extra, haste], () =>
        kept(possible, isContinued).flatMap((grip) => {
          const wide = wideAtTempoCost(grip.beyondTempoMm, haste, costs.texture);
          return candidates(board.instrument, { ...grip, attack, cost: grip.cost + extra + wide });
        }),
      );
    }

    function heldAt(at: TuneEvent, melodyMidi: number): readonly Candidate[] {
      const before = columns[index - 1];
      const cost = at.chord === undefined ? undefined : texture.heldCost(at);
      if (before === undefined || cost === undefined || !at.isNoteOnset || !at.mayBeHeldInto) return NOTHING;
      const worth = (degrees: readonly string[]) => releaseCost(degrees, at.chord, costs.voicing);
      const isGuide = (degree: string | undefined) =>
        at.chord?.tones.some((tone) => tone.label === degree && tone.role === "guide") === true;
      const melody = at.chord?.tones.find((tone) => tone.pitchClass === melodyMidi % 12);
      const isHollow = (degrees: readonly string[]) => !isGuide(melody?.label) && !degrees.some(isGuide);
      return ringing([before, melodyMidi, at.chord && chordName(at.chord), cost], () =>
        heldGrips(before, melodyMidi, board, costs, memory, cost, worth, isHollow),
      );
    }
  }
  return columns;
}

/** The cheapest grips for each place of the melody, so that none is missing that the way may want. */
function kept(possible: readonly StruckGrip[], isFingerDecided: boolean): readonly StruckGrip[] {
  const seen = new Map<string, { count: number; readonly cheapest: number }>();
  const most = isFingerDecided ? STRUCK_KEPT_EACH_FINGER : STRUCK_KEPT;
  return possible.filter(({ strings, fingers, cost }) => {
    const place = `${strings.at(-1)?.string} ${isFingerDecided ? fingers.at(-1) : ""}`;
    const before = seen.get(place) ?? { count: 0, cheapest: cost };
    seen.set(place, before);
    before.count += 1;
    const isNear = before.count <= STRUCK_KEPT_AT_LEAST || cost - before.cheapest <= STRUCK_KEPT_WITHIN;
    return isNear && before.count <= most;
  });
}

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
          melodyPlaceCost(instrument, place, costs.voicing) +
          extraCost,
      }),
    );
  });
}
