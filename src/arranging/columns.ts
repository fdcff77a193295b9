import type { Finger } from "../guitar/grip.js";
import { holdingEffort } from "../guitar/hand-effort.js";
import { supportPlan } from "../harmony/support-plan.js";
import type { Avoided } from "./avoided.js";
import { type Candidate, candidates } from "./candidate.js";
import type { CostTable } from "./cost-table.js";
import { heldGrips } from "./held-grips.js";
import { restChords } from "./rest-chords.js";
import { type Fretboard, melodyPlaces, type StruckGrip, struckGrips } from "./struck-grips.js";
import type { Texture } from "./texture.js";
import type { TuneEvent } from "./tune-events.js";

/** Struck grips an event keeps, cheapest by themselves: tens of shapes with their fingers. */
const STRUCK_KEPT = 90;

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
  const gripsUnder = rememberedGrips(wishes, costs);
  const columns: (readonly Candidate[])[] = [];
  for (const [index, event] of events.entries()) {
    const isContinued = events[index + 1]?.isNoteOnset === false || !event.isNoteOnset;
    const texture = wishes.textureAt(event);
    const column =
      event.note === undefined
        ? restChords(event, { ...wishes.board, avoided: wishes.avoidedAt(event) }, wishes.notes, costs)
        : [
            ...singleNotes(event, event.note.midi, wishes.board, texture, costs),
            ...struckAt(event, event.note.midi),
            ...heldAt(event, event.note.midi),
          ];
    columns.push(wishes.asWished(event, column));

    function struckAt(at: TuneEvent, melodyMidi: number): readonly Candidate[] {
      const extra = texture.struckCost(at);
      if (at.chord === undefined || extra === undefined) return [];
      const attack = at.isNoteOnset ? "struck" : "under";
      // Where a note rings on over a change, its finger decides; every finger for it is kept.
      return gripsUnder(at, melodyMidi)
        .slice(0, isContinued ? undefined : STRUCK_KEPT)
        .flatMap((grip) => candidates(wishes.board.instrument, { ...grip, attack, cost: grip.cost + extra }));
    }

    function heldAt(at: TuneEvent, melodyMidi: number): readonly Candidate[] {
      const before = columns[index - 1];
      const cost = at.chord === undefined ? undefined : texture.heldCost(at);
      if (before === undefined || cost === undefined || !at.isNoteOnset || !at.mayBeHeldInto) return [];
      const isGuide = (degree: string) =>
        at.chord?.tones.some((tone) => tone.label === degree && tone.role === "guide") ?? false;
      return heldGrips(before, melodyMidi, isGuide, wishes.board, costs, cost);
    }
  }
  return columns;
}

/** The melody note alone, on each string and with each finger; over an open string the hand may wait elsewhere. */
export function singleNotes(
  event: TuneEvent,
  melodyMidi: number,
  board: Fretboard,
  texture: Texture,
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
          texture.singleCost(event),
      }),
    );
  });
}

/** Grips by melody pitch and chord, found once a tune. */
function rememberedGrips(
  { board, notes, avoidedAt }: ColumnWishes,
  costs: CostTable,
): (event: TuneEvent, melodyMidi: number) => readonly StruckGrip[] {
  const known = new Map<string, readonly StruckGrip[]>();
  return (event, melodyMidi) => {
    if (event.chord === undefined) return [];
    const avoided = avoidedAt(event);
    const key = JSON.stringify([melodyMidi, event.chord.symbol, avoided]);
    const remembered = known.get(key);
    if (remembered !== undefined) return remembered;
    const plan = supportPlan(event.chord, melodyMidi % 12, notes);
    const grips = struckGrips({ ...board, avoided }, melodyMidi, plan, costs);
    known.set(key, grips);
    return grips;
  };
}
