import type { ArrangedEvent } from "#built/arrangement/arrangement.js";
import { type Chord, chordOf } from "#built/harmony/chord-tones.js";
import type { Judged, Section } from "./section.js";
import { share, type Tally } from "./tally.js";

/** Guide tones, clashes under the melody, chord changes and notes that carry their chord. */
export const HARMONY: Section = {
  judge,
  lines: (tally) => [
    `both guide tones in a struck grip under a seventh chord: ${share(tally, "guides: both", "guides: due")}`,
    `... where the melody leaves room for them: ${share(tally, "guides: both", "guides: possible")}`,
    `melody notes over harmony, from the first chord on: ${share(tally, "melody: over harmony", "melody: under chords")}`,
    `chord changes on a melody note that carry their chord: ${share(tally, "change: carried", "change: on a note")}`,
    `the same note over the same chord in its usual shape: ${share(tally, "same note and chord: its usual shape", "same note and chord: met again")}`,
  ],
};

function judge({ tune, arrangement, placeOf }: Judged, { count }: Tally): void {
  const { events, supports } = arrangement;
  let chordBefore: string | undefined;
  const shapes = new Map<string, Map<string, number>>();
  for (const event of events) {
    const note = event.melodyNote === undefined ? undefined : tune.melody[event.melodyNote];
    const symbol = event.chord === undefined ? undefined : tune.chords[event.chord]?.symbol;
    const chord = symbol === undefined ? undefined : chordOf(symbol);
    const isNoteOnset = note !== undefined && note.onset === event.onset;
    const isChange = JSON.stringify(symbol) !== chordBefore;
    chordBefore = JSON.stringify(symbol);
    const under = event.supports.flatMap((index) => supports[index]?.midi ?? []);
    if (chord === undefined) continue;
    const place = placeOf(event.onset);
    if (isNoteOnset) {
      count("melody: under chords");
      if (under.length > 0) count("melody: over harmony");
      else {
        count("melody: single under a chord");
        count(`melody: single under a chord, ${event.whySingle}`, place);
      }
      if (isChange) {
        count("change: on a note");
        if (event.attack === "struck") count("change: carried");
        else count("change: not carried", place);
      }
    }
    if (event.attack === "single" || event.attack === "held") continue;
    judgeGrip(chord, event, note?.midi, under, place, count);
    const situation = `${note?.midi} ${JSON.stringify(symbol)}`;
    const shape = event.supports
      .map((index) => `${supports[index]?.string}:${supports[index]?.fret}`)
      .join(" ");
    const known = shapes.get(situation) ?? new Map<string, number>();
    shapes.set(situation, known.set(shape, (known.get(shape) ?? 0) + 1));
  }
  for (const known of shapes.values()) {
    const times = [...known.values()];
    const met = times.reduce((sum, one) => sum + one, 0);
    if (met < 2) continue;
    count("same note and chord: met again", undefined, met);
    count("same note and chord: its usual shape", undefined, Math.max(...times));
  }
}

function judgeGrip(
  chord: Chord,
  event: ArrangedEvent,
  melodyMidi: number | undefined,
  under: readonly number[],
  place: string,
  count: Tally["count"],
): void {
  const sounding = [...under, ...(melodyMidi === undefined ? [] : [melodyMidi])].map((midi) => midi % 12);
  const guides = chord.tones.filter((tone) => tone.role === "guide");
  if (chord.isSeventhOrLarger && guides.length >= 2) {
    count("guides: due");
    const missing = guides.filter((tone) => !sounding.includes(tone.pitchClass));
    const reasons = event.leftOut.filter((left) => missing.some((tone) => tone.label === left.degree));
    if (missing.length === 0) count("guides: both");
    else
      for (const { degree, reason } of reasons)
        count(`guides: without ${degree}, ${reason}`, `${place} melody ${event.melodyDegree}`);
    if (!reasons.some(({ reason }) => reason !== "out-of-reach")) count("guides: possible");
  }
  if (melodyMidi !== undefined) {
    for (const midi of under) {
      if ([1, 13].includes(melodyMidi - midi))
        count("support a semitone or minor ninth under the melody", place);
    }
  }
  const needed = event.leftOut.filter(({ reason }) => reason === "least-needed" || reason === "out-of-reach");
  if (new Set(sounding).size < sounding.length && needed.length > 0)
    count("doubled while a tone is missing", place);
  count("grips struck");
}
