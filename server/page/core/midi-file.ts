import { type MidiEvent, writeMidi } from "midi-file";
import type { Performance } from "undervoice";

const TICKS_PER_QUARTER = 960;
/** Acoustic guitar (nylon), General MIDI level 1, counted from 0. */
const NYLON_GUITAR = 24;
const LOUDNESS = { melody: 96, support: 72 } as const;

/**
 * A standard MIDI file (format 1) as it is heard: repeats played out, melody and supporting notes on a track and
 * a channel each, the tempo marks of the score on the first, so that its beats are those of the file.
 */
export function midiFile({ notes, tempos }: Performance, title: string | undefined): Uint8Array {
  const tickAt = ticksBy(tempos);
  const track = (isMelody: boolean, name: string, channel: number): MidiEvent[] => {
    const own = notes.filter((note) => note.isMelody === isMelody);
    const timed = own.flatMap(({ seconds, length, midi }) => [
      { at: seconds, isOn: true, midi },
      { at: seconds + length, isOn: false, midi },
    ]);
    timed.sort((one, other) => one.at - other.at || Number(one.isOn) - Number(other.isOn));
    let before = 0;
    return [
      { deltaTime: 0, meta: true, type: "trackName", text: name },
      { deltaTime: 0, channel, type: "programChange", programNumber: NYLON_GUITAR },
      ...timed.map(({ at, isOn, midi }): MidiEvent => {
        const tick = tickAt(at);
        const deltaTime = tick - before;
        before = tick;
        const velocity = isOn ? LOUDNESS[isMelody ? "melody" : "support"] : 0;
        return { deltaTime, channel, type: isOn ? "noteOn" : "noteOff", noteNumber: midi, velocity };
      }),
      { deltaTime: 0, meta: true, type: "endOfTrack" },
    ];
  };
  const head: MidiEvent[] = [
    { deltaTime: 0, meta: true, type: "trackName", text: title ?? "Untitled" },
    ...tempos.map(
      ({ seconds, quartersPerMinute }, index): MidiEvent => ({
        deltaTime: tickAt(seconds) - tickAt(tempos[index - 1]?.seconds ?? 0),
        meta: true,
        type: "setTempo",
        microsecondsPerBeat: Math.round(60_000_000 / quartersPerMinute),
      }),
    ),
    { deltaTime: 0, meta: true, type: "endOfTrack" },
  ];
  const bytes = writeMidi({
    header: { format: 1, numTracks: 3, ticksPerBeat: TICKS_PER_QUARTER },
    tracks: [head, track(true, "Melody", 0), track(false, "Supporting notes", 1)],
  });
  return Uint8Array.from(bytes);
}

/** From seconds to ticks of the file, by the tempos that are played through. */
function ticksBy(tempos: Performance["tempos"]): (seconds: number) => number {
  const ticksIn = (seconds: number, quartersPerMinute: number) =>
    (seconds * TICKS_PER_QUARTER * quartersPerMinute) / 60;
  const starts = tempos.map((_, index) =>
    tempos
      .slice(0, index)
      .reduce(
        (ticks, { seconds, quartersPerMinute }, before) =>
          ticks + ticksIn((tempos[before + 1]?.seconds ?? seconds) - seconds, quartersPerMinute),
        0,
      ),
  );
  return (seconds) => {
    const inForce = Math.max(
      0,
      tempos.findLastIndex((tempo) => tempo.seconds <= seconds + 1e-9),
    );
    const tempo = tempos[inForce];
    if (tempo === undefined) return 0;
    return Math.round((starts[inForce] ?? 0) + ticksIn(seconds - tempo.seconds, tempo.quartersPerMinute));
  };
}
