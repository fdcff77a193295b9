import type { Finger } from "../../guitar/grip.js";
import { holdingEffort } from "../../guitar/hand-effort.js";
import type { Chord } from "../../harmony/chord-tones.js";
import { supportPlan } from "../../harmony/support-plan.js";
import type { Avoided } from "../../wishes/avoided.js";
import { type Candidate, candidates } from "../candidate.js";
import type { CostTable } from "../costs/cost-table.js";
import { releaseCost } from "../costs/release-cost.js";
import type { Texture } from "../textures/texture.js";
import type { TuneEvent } from "../tune-events.js";
import { remembered } from "./memo.js";
import { restChords } from "./rest-chords.js";
import { type Fretboard, melodyPlaces, type StruckGrip, struckGrips } from "./struck-grips.js";
import { heldGrips } from "./sustained-grips.js";

/** Struck grips an event keeps, cheapest by themselves: tens of shapes with their fingers. */
const STRUCK_KEPT = 90;

const NOTHING: readonly Candidate[] = [];

export interface ColumnWishes {
  readonly board: Fretboard;
  /** Notes in a grip, melody included. */
  readonly notes: "auto" | 3 | 4;
  readonly textureAt: (event: TuneEvent) => Texture;
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
  // A tune meets the same note over the same chord many times, and whole strains again.
  const grips = remembered<readonly StruckGrip[]>();
  const singles = remembered<readonly Candidate[]>();
  const struck = remembered<readonly Candidate[]>();
  const held = remembered<readonly Candidate[]>();
  const together = remembered<readonly Candidate[]>();
  const columns: (readonly Candidate[])[] = [];
  for (const [index, event] of events.entries()) {
    const isContinued = events[index + 1]?.isNoteOnset === false || !event.isNoteOnset;
    const texture = wishes.textureAt(event);
    const column =
      event.note === undefined
        ? restChords(event, { ...board, avoided: wishes.avoidedAt(event) }, wishes.notes, costs)
        : joined(
            singleAt(event.note.midi, texture.singleCost(event)),
            struckAt(event, event.note.midi),
            heldAt(event, event.note.midi),
          );
    columns.push(wishes.asWished(event, column));

    function joined(...parts: readonly (readonly Candidate[])[]): readonly Candidate[] {
      return together(parts, () => parts.flat());
    }

    function gripsUnder(at: TuneEvent, chord: Chord, melodyMidi: number): readonly StruckGrip[] {
      const avoided = wishes.avoidedAt(at);
      return grips([melodyMidi, JSON.stringify([chord.symbol, avoided])], () =>
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
      // Where a note rings on over a change, its finger decides; every finger for it is kept.
      const kept = isContinued ? undefined : STRUCK_KEPT;
      return struck([possible, attack, kept, extra], () =>
        possible
          .slice(0, kept)
          .flatMap((grip) => candidates(board.instrument, { ...grip, attack, cost: grip.cost + extra })),
      );
    }

    function heldAt(at: TuneEvent, melodyMidi: number): readonly Candidate[] {
      const before = columns[index - 1];
      const cost = at.chord === undefined ? undefined : texture.heldCost(at);
      if (before === undefined || cost === undefined || !at.isNoteOnset || !at.mayBeHeldInto) return NOTHING;
      const worth = (degrees: readonly string[]) => releaseCost(degrees, at.chord, costs.voicing);
      return held([before, melodyMidi, JSON.stringify(at.chord?.symbol), cost], () =>
        heldGrips(before, melodyMidi, board, costs, cost, worth),
      );
    }
  }
  return columns;
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
          (costs.voicing.melodyString[place.string - 1] ?? 0) +
          extraCost,
      }),
    );
  });
}
