import type { Performance } from "undervoice";
import { strings } from "./strings.js";

/** How a score is to be heard. */
export interface Hearing {
  /** Against the score's own tempo; pitches stay. */
  readonly speed: number;
  /** First and last measure, from 1; played round and round where they are a loop. */
  readonly from: number;
  readonly to: number;
  readonly isLoop: boolean;
  /** Notes of a chord one after the other, low to high, or at once. */
  readonly isStrummed: boolean;
  readonly hasCountIn: boolean;
  /** Melody against what sounds under it, decibels. */
  readonly melodyDb: number;
}

export interface Player {
  play(
    performance: Performance,
    hearing: Hearing,
    beat: number,
    heard: (moment: number | undefined) => void,
  ): void;
  /** Notes at once, now. */
  strike(midis: readonly number[]): void;
  stop(): void;
  readonly isPlaying: boolean;
}

/** Between the notes of a strummed chord. Common practice: quick enough to be one chord. */
const STRUM_SECONDS = 0.022;
const SUPPORT_GAIN = 0.3;
/** How far ahead notes are handed over, and how often it is looked. */
const AHEAD_SECONDS = 0.6;
const LOOK_MS = 120;
const BEFORE_FIRST_SECONDS = 0.12;
const AFTER_LAST_SECONDS = 0.1;
const COUNTED_BEATS = 4;
/** A beat that is counted: a string stopped at once. */
const COUNT = { midi: 96, length: 0.03, gain: SUPPORT_GAIN } as const;

/** Plays by strings computed in the page. The browser's sound starts with the first click that asks for it. */
export function player(): Player {
  let opened: { readonly on: AudioContext; readonly pluck: ReturnType<typeof strings> } | undefined;
  let ending: (() => void) | undefined;

  function sound() {
    if (opened === undefined) {
      const on = new AudioContext();
      opened = { on, pluck: strings(on) };
    }
    void opened.on.resume();
    return opened;
  }

  function stop() {
    ending?.();
    ending = undefined;
  }

  return {
    get isPlaying() {
      return ending !== undefined;
    },
    stop,
    strike(midis) {
      const { on, pluck } = sound();
      const now = on.currentTime + 0.03;
      for (const [order, midi] of midis.entries())
        pluck(on.destination, { midi, at: now + order * STRUM_SECONDS, length: 2, gain: SUPPORT_GAIN * 1.2 });
    },
    play(performance, hearing, beat, heard) {
      stop();
      const { on, pluck } = sound();
      const all = on.createGain();
      all.connect(on.destination);
      const stretch = stretchOf(performance, hearing);
      const scale = 1 / hearing.speed;
      const round = (stretch.to - stretch.from) * scale;
      const counted = hearing.hasCountIn ? COUNTED_BEATS * beat * scale : 0;
      const begun = on.currentTime + BEFORE_FIRST_SECONDS + counted;
      if (hearing.hasCountIn)
        for (let count = 0; count < COUNTED_BEATS; count += 1)
          pluck(all, { ...COUNT, at: begun - counted + count * beat * scale });
      const isHere = ({ seconds }: { readonly seconds: number }) =>
        seconds >= stretch.from - 1e-9 && seconds < stretch.to - 1e-9;
      const notes = strummed(performance.notes.filter(isHere), hearing.isStrummed);
      const moments = performance.moments.filter(isHere);
      const melodyGain = SUPPORT_GAIN * 10 ** (hearing.melodyDb / 20);
      let handed = 0;
      const look = () => {
        while (handed < notes.length * (hearing.isLoop ? Number.POSITIVE_INFINITY : 1)) {
          const note = notes[handed % notes.length];
          if (note === undefined) return;
          const at =
            begun + Math.floor(handed / notes.length) * round + (note.seconds - stretch.from) * scale;
          if (at + note.late > on.currentTime + AHEAD_SECONDS) return;
          pluck(all, {
            midi: note.midi,
            at: Math.max(at + note.late, on.currentTime),
            length: note.length * scale,
            gain: note.isMelody ? melodyGain : SUPPORT_GAIN,
          });
          handed += 1;
        }
      };
      const looking = setInterval(look, LOOK_MS);
      look();
      let shown: number | undefined;
      let frame = 0;
      const follow = () => {
        const passed = on.currentTime - begun;
        if (!hearing.isLoop && passed > round + AFTER_LAST_SECONDS) {
          stop();
          return;
        }
        const place = stretch.from + (Math.max(passed, 0) % Math.max(round, 1e-6)) / scale;
        const now = moments.findLast(({ seconds }) => seconds <= place + 0.01)?.moment;
        if (now !== shown && passed >= 0) heard(now);
        if (passed >= 0) shown = now;
        frame = requestAnimationFrame(follow);
      };
      frame = requestAnimationFrame(follow);
      ending = () => {
        clearInterval(looking);
        cancelAnimationFrame(frame);
        all.disconnect();
        ending = undefined;
        heard(undefined);
      };
    },
  };
}

/** The seconds in which the measures asked for are first played through; all there is where they are not. */
function stretchOf({ measures, seconds }: Performance, { from, to }: Hearing): { from: number; to: number } {
  const first = measures.findIndex(({ index }) => index + 1 >= from && index + 1 <= to);
  const begin = measures[first]?.seconds ?? 0;
  const isWhole = from <= 1 && measures.every(({ index }) => index + 1 <= to);
  if (isWhole) return { from: 0, to: seconds };
  let last = Math.max(first, 0);
  while (measures[last + 1] !== undefined && inside(measures[last + 1]?.index, from, to)) last += 1;
  const end = measures[last];
  return { from: begin, to: end === undefined ? seconds : end.seconds + end.length };
}

const inside = (index: number | undefined, from: number, to: number): boolean =>
  index !== undefined && index + 1 >= from && index + 1 <= to;

/** How much later each note of a chord sounds. */
function strummed(notes: Performance["notes"], isStrummed: boolean) {
  let order = 0;
  return notes.map((note, index) => {
    order = notes[index - 1]?.seconds === note.seconds ? order + 1 : 0;
    return { ...note, late: isStrummed ? order * STRUM_SECONDS : 0 };
  });
}
