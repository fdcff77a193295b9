import type { Draft } from "../core/core-messages.js";
import { button, make } from "../parts/make.js";
import { door } from "../take-away.js";
import { type Hearing, player } from "./player.js";

export interface HearRoom {
  readonly element: HTMLElement;
  readonly doors: readonly HTMLElement[];
  /** Plays and stops. */
  readonly play: HTMLElement;
  /** An arrangement to be heard; what sounds of another stops. */
  show(draft: Draft): void;
  strike(midis: readonly number[]): void;
  stop(): void;
}

/** Where a person hears what is arranged. */
export function hearRoom(source: { measure(): number; heard(moment: number | undefined): void }): HearRoom {
  const sounds = player();
  let draft: Draft | undefined;
  const number = (value: number, min: number, max: number, step = 1) =>
    make("input", { type: "number", value, min, max, step });
  const tick = (isOn: boolean) => make("input", { type: "checkbox", checked: isOn });
  const speed = make("input", { type: "range", value: 100, min: 30, max: 150, step: 5 });
  const shownSpeed = make("output", {}, "");
  const [from, to] = [number(1, 1, 1), number(1, 1, 1)];
  const [loop, count] = [tick(false), tick(true)];
  const melody = make("input", { type: "range", value: 4, min: 0, max: 12, step: 1 });
  const chords = make(
    "select",
    {},
    make("option", { value: "strummed" }, "strummed"),
    make("option", { value: "together" }, "together"),
  );
  const play = button("Play", () => toggle(), { class: "play", "aria-pressed": "false" });
  const here = button("This measure round and round", () => {
    [from, to].forEach((field) => {
      field.value = String(source.measure());
    });
    loop.checked = true;
    restart();
  });
  const onwards = button("From this measure on", () => {
    from.value = String(source.measure());
    to.value = to.max;
    loop.checked = false;
    restart();
  });
  const whole = button("All of it", () => {
    from.value = "1";
    to.value = to.max;
    loop.checked = false;
    restart();
  });
  const field = (text: string, control: HTMLElement, ...more: readonly HTMLElement[]) =>
    make("label", { class: "field" }, make("span", {}, text), control, ...more);
  const element = make(
    "section",
    { class: "room", id: "hear-it", "aria-label": "Hear it", hidden: true },
    make("h2", {}, "Hear it"),
    make(
      "div",
      { class: "fields" },
      field("Tempo", speed, shownSpeed),
      field("From measure", from),
      field("to measure", to),
      field("Round and round", loop),
      field("Count in", count),
      field("Chords", chords),
      field("Melody louder by", melody),
    ),
    make("div", { class: "choices" }, here, onwards, whole),
  );
  const opens = door("Hear it", element);

  const hearing = (): Hearing => ({
    speed: Number(speed.value) / 100,
    from: Number(from.value),
    to: Math.max(Number(to.value), Number(from.value)),
    isLoop: loop.checked,
    isStrummed: chords.value === "strummed",
    hasCountIn: count.checked,
    melodyDb: Number(melody.value),
  });

  function start() {
    if (draft === undefined) return;
    sounds.play(draft.performance, hearing(), 60 / draft.quartersPerMinute, (moment) => {
      source.heard(moment);
      if (!sounds.isPlaying) sayState(false);
    });
    sayState(true);
  }

  function toggle() {
    if (sounds.isPlaying) sounds.stop();
    else start();
    sayState(sounds.isPlaying);
  }

  function restart() {
    if (sounds.isPlaying) start();
    else toggle();
  }

  function sayState(isPlaying: boolean) {
    play.textContent = isPlaying ? "Stop playing" : "Play";
    play.setAttribute("aria-pressed", String(isPlaying));
  }

  function saySpeed() {
    const quarters = ((draft?.quartersPerMinute ?? 100) * Number(speed.value)) / 100;
    shownSpeed.textContent = `${speed.value} %, ${Math.round(quarters)} quarter notes a minute`;
  }

  speed.addEventListener("input", saySpeed);
  for (const control of [speed, from, to, loop, chords, melody])
    control.addEventListener("change", () => {
      if (sounds.isPlaying) start();
    });
  return {
    element,
    doors: [opens],
    play,
    show(made) {
      sounds.stop();
      sayState(false);
      const measures = String(made.trace.measures.length);
      const isWhole = draft === undefined || to.value === to.max;
      draft = made;
      [from, to].forEach((one) => {
        one.max = measures;
      });
      if (isWhole) to.value = measures;
      saySpeed();
    },
    strike: sounds.strike,
    stop() {
      sounds.stop();
      sayState(false);
    },
  };
}
