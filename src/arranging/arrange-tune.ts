import { barresOf } from "../guitar/fingering.js";
import type { Instrument } from "../guitar/instrument.js";
import { parseDegree, spellDegree } from "../harmony/chord-degree.js";
import type { ChordTone } from "../harmony/chord-tones.js";
import { type Pitch, type PitchName, pitchNamed } from "../song/pitch.js";
import type { Tune } from "../song/tune.js";
import type { ArrangedEvent, Arrangement, Placement, SupportNote, Transposition } from "./arrangement.js";
import { type Candidate, melodyFinger, melodyString, supportCount } from "./candidate.js";
import { cheapestWay } from "./cheapest-path.js";
import { columnsFor, degreeOfMelody } from "./columns.js";
import { COSTS, type CostTable } from "./cost-table.js";
import { moveCost } from "./moves.js";
import type { PathProblem } from "./path-problem.js";
import { type TextureWishes, textureOf } from "./texture.js";
import { type EventLink, eventLinks, type TuneEvent, tuneEvents } from "./tune-events.js";

export interface TuneWishes extends TextureWishes {
  readonly instrument: Instrument;
  /** Strings the melody may use, 1 the highest. */
  readonly melodyStrings: readonly number[];
  /** Quarter notes a minute in place of the tune's own. */
  readonly tempo: number | undefined;
}

/** Everything the cheapest way is searched in. */
export interface ArrangingProblem extends PathProblem {
  readonly events: readonly TuneEvent[];
  readonly columns: readonly (readonly Candidate[])[];
}

/** The search for a tune that already lies where it will be played. */
export function arrangingProblem(tune: Tune, wishes: TuneWishes, costs: CostTable = COSTS): ArrangingProblem {
  const events = tuneEvents(tune, wishes.tempo);
  const texture = textureOf(wishes, costs);
  const columns = columnsFor(events, wishes, texture, costs);
  const links = eventLinks(tune, events, wishes.tempo);
  const secondsOf = new Map<unknown, number>(links.map((link: EventLink) => [link, link.seconds]));
  return {
    events,
    columns,
    sizes: columns.map((column) => column.length),
    links,
    choiceCost: (column, choice) => columns[column]?.[choice]?.cost ?? Number.POSITIVE_INFINITY,
    linkCost: (link, fromChoice, toChoice) => {
      const from = columns[link.from]?.[fromChoice];
      const to = columns[link.to]?.[toChoice];
      if (from === undefined || to === undefined) return Number.POSITIVE_INFINITY;
      const isNext = link.to === link.from + 1;
      if (isNext && events[link.to]?.isNoteOnset === false && !keepsMelody(from, to))
        return Number.POSITIVE_INFINITY;
      if (to.attack === "held" && !(isNext && keepsSupports(from, to))) return Number.POSITIVE_INFINITY;
      return moveCost(from, to, secondsOf.get(link) ?? 0, costs.move, texture.limit);
    },
  };
}

/** The cheapest arrangement of a tune; undefined where not even single notes can be played. */
export function arrangeTune(
  tune: Tune,
  transposition: Transposition,
  wishes: TuneWishes,
  costs: CostTable = COSTS,
): Arrangement | undefined {
  const problem = arrangingProblem(tune, wishes, costs);
  const way = cheapestWay(problem);
  if (way === undefined) return undefined;
  const chosen = way.choices
    .map((choice, column) => problem.columns[column]?.[choice])
    .filter((c) => c !== undefined);
  return {
    ...arrangementOf(tune, problem.events, chosen),
    instrument: wishes.instrument,
    transposition,
    cost: way.cost,
  };
}

/** The melody note rings on: same string, fret and finger. */
function keepsMelody(from: Candidate, to: Candidate): boolean {
  const before = melodyString(from);
  const after = melodyString(to);
  return (
    before.string === after.string && before.fret === after.fret && melodyFinger(from) === melodyFinger(to)
  );
}

/** Every supporting note of the second grip already sounds in the first, under the same finger. */
function keepsSupports(from: Candidate, to: Candidate): boolean {
  for (let index = 0; index < supportCount(to); index += 1) {
    const note = to.strings[index];
    let isThere = false;
    for (let other = 0; other < supportCount(from) && !isThere; other += 1) {
      const earlier = from.strings[other];
      isThere =
        earlier?.string === note?.string &&
        earlier?.fret === note?.fret &&
        from.fingers[other] === to.fingers[index];
    }
    if (!isThere) return false;
  }
  return true;
}

/** Joins what was chosen into notes: held supporting notes become one long note each. */
function arrangementOf(
  tune: Tune,
  events: readonly TuneEvent[],
  chosen: readonly Candidate[],
): Pick<Arrangement, "melody" | "supports" | "events" | "graces"> {
  const melody: Placement[] = tune.melody.map(() => ({ string: 1, fret: 0, finger: 0 }));
  const supports: SupportNote[] = [];
  const arranged: ArrangedEvent[] = [];
  let sounding: number[] = [];
  let handMm = chosen.find((grip) => grip.placeMm !== undefined)?.placeMm ?? 0;
  events.forEach((event, index) => {
    const grip = chosen[index];
    if (grip === undefined) return;
    const end = Math.min(
      event.note.onset + event.note.length,
      events[index + 1]?.onset ?? Number.POSITIVE_INFINITY,
    );
    melody[event.note.index] = { ...melodyString(grip), finger: melodyFinger(grip) };
    const here = grip.strings.slice(0, -1).map((note, voice): number => {
      const held =
        grip.attack === "held" ? sounding.find((at) => supports[at]?.string === note.string) : undefined;
      const earlier = held === undefined ? undefined : supports[held];
      if (held !== undefined && earlier !== undefined) {
        supports[held] = { ...earlier, end };
        return held;
      }
      const midi = grip.midis[voice] ?? 0;
      const degree = grip.degrees[voice] ?? "";
      const pitch = spelledSupport(event, degree, midi);
      supports.push({
        ...note,
        finger: grip.fingers[voice] ?? 0,
        onset: event.onset,
        end,
        midi,
        pitch,
        degree,
      });
      return supports.length - 1;
    });
    sounding = here;
    handMm = grip.placeMm ?? handMm;
    arranged.push({
      onset: event.onset,
      melodyNote: event.note.index,
      attack: grip.attack,
      chord: event.span?.index,
      melodyDegree: degreeOfMelody(event),
      supports: here,
      barres: barresOf(grip.strings, grip.fingers),
      handMm,
    });
  });
  return { melody, supports, events: arranged, graces: new Map() };
}

/** A supporting note is spelled by its degree over the chord's root; a foreign bass as the symbol writes it. */
function spelledSupport(event: TuneEvent, degree: string, midi: number): Pitch {
  const chord = event.chord;
  const tone: ChordTone | undefined = chord?.tones.find((candidate) => candidate.label === degree);
  const name: PitchName | undefined =
    tone?.name ??
    (degree === "bass" ? chord?.bass?.name : chord && spellDegree(chord.symbol.root, parseDegree(degree)));
  const pitch = name === undefined ? undefined : pitchNamed(name, midi);
  if (pitch === undefined) throw new Error(`degree ${degree} is not MIDI ${midi}`);
  return pitch;
}
