import type { Finger } from "../guitar/grip.js";
import type { Instrument } from "../guitar/instrument.js";
import type { LeftOutTone } from "../harmony/left-out.js";
import type { Pitch } from "../song/pitch.js";
import type { Transposition } from "../song/transposition.js";

/** Where one note is played. */
export interface Placement {
  readonly string: number;
  readonly fret: number;
  readonly finger: Finger;
}

/** A grace note, before what sounds from `onset`. Sounding pitch. */
export interface PlacedGrace extends Placement {
  readonly onset: number;
  readonly midi: number;
}

/** A note under the melody. Ticks of the tune; a note that sounds on is one note. */
export interface SupportNote extends Placement {
  readonly onset: number;
  readonly end: number;
  readonly midi: number;
  readonly pitch: Pitch;
  /** Degree above the chord's root, such as "b7"; "bass" for a foreign slash bass. */
  readonly degree: string;
  /** It is of a bass put under the tune. */
  readonly isBassLine?: true;
  /** It is this melody note, struck as that and left to ring; `onset` is where the next one begins. */
  readonly leftByMelody?: number;
}

/** How a melody note, or a chord change under one, is played. */
export type Attack =
  | "struck" // with its chord
  | "held" // over a chord that rings on
  | "single" // alone
  | "under"; // a chord struck under a melody note that rings on

/** A moment of the arrangement, in time order. */
export interface ArrangedEvent {
  readonly onset: number;
  /** undefined where the melody rests. */
  readonly melodyNote: number | undefined;
  readonly attack: Attack;
  /** Where the attack is "single", why. */
  readonly whySingle: WhySingle | undefined;
  /** Index of the chord span in force; undefined before the first chord. */
  readonly chord: number | undefined;
  /** Degree of the melody note over that chord; undefined where there is no chord. */
  readonly melodyDegree: string | undefined;
  /** Indexes into `Arrangement.supports` of what sounds under the melody now, low to high. */
  readonly supports: readonly number[];
  /** Strings stopped by one finger across, if any: barres of this grip. */
  readonly barres: readonly Barre[];
  /** Where the hand is: where the index finger of a hand at ease would lie, mm from the nut; over open strings, where it waits. */
  readonly handMm: number;
  /** Tones of the chord that a struck grip does without. */
  readonly leftOut: readonly LeftOutTone[];
  /** What the voices of an ensemble sing here and is not played, the lowest first; none in other textures. */
  readonly voicesLeftOut: readonly VoiceLeftOut[];
  /** The best other ways to play this event, cheapest first; worked out when they are first asked for. */
  readonly alternatives: readonly Alternative[];
}

/** A note of a voice that is not played where it is sung, in any octave. */
export interface VoiceLeftOut {
  /** The name of the voice, for people. */
  readonly voice: string;
  /** Sounding, and already transposed. */
  readonly pitch: Pitch;
  /** Whether something else sounds its pitch class. */
  readonly isToneThere: boolean;
}

/** Another way to play an event. */
export interface Alternative {
  readonly attack: Attack;
  /** Low to high, the melody last where it sounds. */
  readonly notes: readonly (Placement & { readonly midi: number })[];
  /** Degrees of the supporting notes, low to high. */
  readonly degrees: readonly string[];
  /** Points that the whole arrangement costs more with it, everything else chosen anew. */
  readonly extraCost: number;
}

/** One finger across several strings: `from` is the highest-numbered (lowest-pitched) string. */
export interface Barre {
  readonly finger: Finger;
  readonly fret: number;
  readonly from: number;
  readonly to: number;
}

/** A tune with a grip for every moment. Pitches are sounding and already transposed. */
export interface Arrangement {
  readonly instrument: Instrument;
  readonly transposition: Transposition;
  /** One for each melody note, in order. */
  readonly melody: readonly Placement[];
  readonly supports: readonly SupportNote[];
  readonly events: readonly ArrangedEvent[];
  /** Left-hand placement of grace notes by id of the written note; single notes, not harmonised. */
  readonly graces: ReadonlyMap<number, PlacedGrace>;
  /** Measures, by index, that have the melody and chords of an earlier one and are played otherwise. */
  readonly playedOtherwise: readonly number[];
  readonly cost: number;
}

/** Why a melody note is alone. */
export type WhySingle =
  | "no-chord" // none is in force
  | "no-voice" // in the texture of the voices, where only the tune is sung
  | "wished" // the player wants it so
  | "no-grip" // no chord, struck or ringing on, is in reach under it
  | "no-time" // none is in reach from the grip before or on the way to the next, at the hand's limit
  | "quick-note" // so quick and off the beat that no chord is struck for it
  | "passing-note" // quick, off the beat and no chord tone
  | "weak-beat" // the lean texture owes it nothing
  | "dearer"; // with any of them the whole arrangement would cost more
