import type {
  Alternative,
  ArrangedEvent,
  Arrangement,
  Placement,
  SupportNote,
  VoiceLeftOut,
  WhySingle,
} from "../arrangement/arrangement.js";
import { barresOf } from "../guitar/fingering.js";
import type { Chord } from "../harmony/chord-tones.js";
import { leftOut } from "../harmony/left-out.js";
import { melodyDegree } from "../harmony/melody-degree.js";
import { supportName } from "../harmony/support-degree.js";
import { midiPitch, mod12, type Pitch, pitchNamed } from "../song/pitch.js";
import type { Tune } from "../song/tune.js";
import { degreesHeard } from "./degrees-heard.js";
import type { TuneEvent } from "./events/tune-events.js";
import {
  areAllSung,
  type Candidate,
  isRingingOn,
  melodyFinger,
  melodyString,
  type SungLine,
} from "./grips/candidate.js";

/** What else is known of the choice made at each event; the lists go with the events. */
interface Reasons {
  readonly alternatives: () => readonly (readonly Alternative[])[];
  readonly whySingle: readonly (WhySingle | undefined)[];
  readonly voicesLeftOut: readonly (readonly VoiceLeftOut[])[];
}

/** Joins what was chosen at each event into notes: held supporting notes become one long note each. */
export function arrangementOf(
  tune: Tune,
  events: readonly TuneEvent[],
  chosen: readonly Candidate[],
  { alternatives, whySingle, voicesLeftOut }: Reasons,
): Pick<Arrangement, "melody" | "supports" | "events" | "graces"> {
  const melody: Placement[] = tune.melody.map(() => ({ string: 1, fret: 0, finger: 0 }));
  const supports: SupportNote[] = [];
  const arranged: ArrangedEvent[] = [];
  let sounding: readonly number[] = [];
  let noteBefore: number | undefined;
  // A score is written without them: they are worked out, all at once, for who asks.
  let others: readonly (readonly Alternative[])[] | undefined;
  let handMm = chosen.find((grip) => grip.placeMm !== undefined)?.placeMm ?? 0;
  for (const event of events) {
    const grip = chosen[event.index];
    if (grip === undefined || grip.strings.length === 0) continue;
    const melodyPlace = melodyString(grip);
    if (event.note !== undefined && melodyPlace !== undefined) {
      melody[event.note.index] = { ...melodyPlace, finger: melodyFinger(grip) };
    }
    sounding = degreesHeard(grip, event.chord).map(
      (degree, voice) => ringsOn(grip, voice, degree, event) ?? strike(grip, voice, degree, event),
    );
    noteBefore = event.note?.index;
    handMm = grip.placeMm ?? handMm;
    arranged.push({
      onset: event.onset,
      melodyNote: event.note?.index,
      attack: grip.attack,
      whySingle: whySingle[event.index],
      chord: event.span?.index,
      melodyDegree:
        event.chord === undefined || event.note === undefined
          ? undefined
          : melodyDegree(event.chord, event.note.midi % 12).label,
      supports: sounding,
      barres: barresOf(grip.strings, grip.fingers),
      handMm,
      leftOut:
        event.chord === undefined ||
        grip.degrees.length === 0 ||
        grip.attack === "held" ||
        areAllSung(grip.lines)
          ? []
          : leftOut(
              event.chord,
              event.note?.midi,
              grip.midis,
              grip.heldFrom !== undefined,
              event.isSuspended,
            ),
      voicesLeftOut: voicesLeftOut[event.index] ?? [],
      get alternatives() {
        others ??= alternatives();
        return others[event.index] ?? [];
      },
    });
  }
  return { melody, supports, events: arranged, graces: new Map() };

  function ringsOn(grip: Candidate, voice: number, degree: string, event: TuneEvent): number | undefined {
    const string = grip.strings[voice]?.string;
    if (!isRingingOn(grip, string)) return undefined;
    const held =
      sounding.find((index) => supports[index]?.string === string) ??
      leftByMelody(grip, voice, degree, event);
    const earlier = held === undefined ? undefined : supports[held];
    if (held !== undefined && earlier !== undefined) supports[held] = { ...earlier, end: event.end };
    return held;
  }

  /** The melody note of before, where that is what rings on. */
  function leftByMelody(
    grip: Candidate,
    voice: number,
    degree: string,
    event: TuneEvent,
  ): number | undefined {
    const note = tune.melody[noteBefore ?? -1];
    const place = melody[noteBefore ?? -1];
    if (note === undefined || place === undefined || place.string !== grip.strings[voice]?.string)
      return undefined;
    const { index, midi, pitch } = note;
    supports.push({
      ...place,
      onset: event.onset,
      end: event.end,
      midi,
      pitch,
      degree,
      leftByMelody: index,
    });
    return supports.length - 1;
  }

  function strike(grip: Candidate, voice: number, degree: string, event: TuneEvent): number {
    const { string, fret } = grip.strings[voice] ?? { string: 1, fret: 0 };
    const midi = grip.midis[voice] ?? 0;
    const pitch = asSung(grip.lines?.[voice], midi) ?? spelledSupport(event.chord, midi);
    const finger = grip.fingers[voice] ?? 0;
    supports.push({
      string,
      fret,
      finger,
      onset: event.onset,
      end: event.end,
      midi,
      pitch,
      degree,
      ...(grip.lines?.[voice]?.isBassLine === true ? { isBassLine: true as const } : {}),
    });
    return supports.length - 1;
  }
}

/** A sung note keeps the spelling it is sung with. */
const asSung = (line: SungLine | undefined, midi: number): Pitch | undefined =>
  line === undefined ? undefined : pitchNamed(line.pitch, midi);

/** A note that no chord is under has the simplest name. */
function spelledSupport(chord: Chord | undefined, midi: number): Pitch {
  if (chord === undefined) return midiPitch(midi);
  const pitch = pitchNamed(supportName(chord, mod12(midi)), midi);
  if (pitch === undefined) throw new Error(`no name for MIDI ${midi} over its chord`);
  return pitch;
}
