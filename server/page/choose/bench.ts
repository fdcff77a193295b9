import {
  type AlternativeReport,
  degreeInWords,
  type EventReport,
  fretsAround,
  LEFT_OUT_TEXTS,
  momentAndPlaceInWords,
  momentText,
  neckPicture,
  shapeName,
  voiceLeftOutText,
  WHY_SINGLE_TEXTS,
  type WrittenWish,
  wayInWords,
} from "undervoice";
import type { Draft } from "../core/core-messages.js";
import { button, make } from "../parts/make.js";
import { pictureFrom } from "../parts/picture.js";
import {
  avoiding,
  choosing,
  freeingMeasure,
  isWished,
  keepingMeasure,
  playing,
  type WishHistory,
  withoutMoment,
} from "./wish-history.js";

/** Where a person sees one moment and chooses how it is played. */
export interface Bench {
  readonly element: HTMLElement;
  /**
   * A moment of a draft, with what is wished so far and was before. Where a choice left no other way, `before` is
   * what there was to choose from.
   */
  show(draft: Draft, moment: number, history: WishHistory, before?: readonly AlternativeReport[]): void;
  /** The row above, with what moves from moment to moment. */
  readonly head: HTMLElement;
}

export interface BenchHeard {
  walkedTo(moment: number): void;
  wished(wishes: readonly WrittenWish[], what: string): void;
  hear(notes: EventReport["notes"]): void;
  undo(): void;
  redo(): void;
}

export function bench(heard: BenchHeard): Bench {
  const walker = make("div", {
    class: "walker",
    role: "slider",
    tabindex: 0,
    "aria-label": "Moment",
    "aria-orientation": "horizontal",
  });
  const neck = make("div", { class: "bench-neck" });
  const facts = make("dl", { class: "facts" });
  const actions = make("div", { class: "actions", role: "group", "aria-label": "What you want here" });
  const rail = make("ol", {
    class: "rail",
    "aria-label": "Other ways to play this moment, the cheapest first",
  });
  const previous = button("‹", () => step(-1), { class: "step", "aria-label": "Moment before" });
  const next = button("›", () => step(1), { class: "step", "aria-label": "Next moment" });
  const harder = button("Next hard place", () => hardest(), { class: "quiet" });
  const undo = button("Undo", heard.undo, { class: "quiet" });
  const redo = button("Redo", heard.redo, { class: "quiet" });
  const head = make("div", { class: "bench-head" }, previous, next, walker, harder, undo, redo);
  const element = make(
    "section",
    { class: "bench", "aria-label": "This moment" },
    head,
    make("div", { class: "bench-body" }, neck, make("div", { class: "aside" }, facts, actions), rail),
  );
  let shown: { draft: Draft; moment: number; wishes: readonly WrittenWish[] } | undefined;

  function step(by: number) {
    if (shown === undefined) return;
    const last = shown.draft.report.events.length - 1;
    const to = Math.min(Math.max(shown.moment + by, 0), last);
    if (to !== shown.moment) heard.walkedTo(to);
  }

  /** The hardest moves one after the other, by the speed they ask for. */
  function hardest() {
    if (shown === undefined) return;
    const { draft, moment } = shown;
    const places = hardMoments(draft);
    const at = places.indexOf(moment);
    const to = places[(at + 1) % places.length];
    if (to !== undefined) heard.walkedTo(to);
  }

  walker.addEventListener("keydown", (event) => {
    const go = KEYS[event.key];
    if (go === undefined || shown === undefined) return;
    event.preventDefault();
    const { events } = shown.draft.report;
    const to = go(shown.moment, events);
    if (to !== shown.moment) heard.walkedTo(to);
  });

  function show(
    draft: Draft,
    moment: number,
    { now: wishes, before, after }: WishHistory,
    othersBefore: readonly AlternativeReport[] = [],
  ) {
    undo.disabled = before.length === 0;
    redo.disabled = after.length === 0;
    const event = draft.report.events[moment];
    if (event === undefined) return;
    shown = { draft, moment, wishes };
    walker.replaceChildren(
      make("span", { class: "where" }, capital(momentText(event))),
      make("strong", { class: "chord" }, event.chord ?? "no chord"),
      make("span", { class: "top" }, topOf(event)),
    );
    for (const [name, value] of Object.entries({
      "aria-valuemin": 1,
      "aria-valuemax": draft.report.events.length,
      "aria-valuenow": moment + 1,
      "aria-valuetext": momentAndPlaceInWords(event),
    }))
      walker.setAttribute(name, String(value));
    drawNeck(draft, event);
    facts.replaceChildren(...factsOf(draft, event, moment));
    actions.replaceChildren(...actionsFor(event, wishes));
    const others = event.alternatives.length > 0 ? event.alternatives : othersBefore;
    rail.replaceChildren(
      ...(others === othersBefore && others.length > 0
        ? [make("li", { class: "none" }, "Before your choice there were:")]
        : []),
      ...others.map((one) => alternative(draft, event, one)),
    );
    if (others.length === 0)
      rail.append(make("li", { class: "none" }, "No other way costs little enough to be worth showing."));
  }

  /** What is played, whatever was looked at before. */
  function drawShown() {
    const event = shown?.draft.report.events[shown.moment];
    if (shown !== undefined && event !== undefined) drawNeck(shown.draft, event);
  }

  function drawNeck(draft: Draft, event: EventReport, ghost?: AlternativeReport) {
    const { neck: map } = draft.trace;
    const seen = ghost ?? event;
    const isWide = element.clientWidth > WIDE_PX;
    const { from, to } = isWide
      ? { from: 0, to: Math.min(map.fretsMm.length, 15) }
      : fretsAround(seen.notes, map);
    const picture = neckPicture({
      neck: map,
      from,
      to: isWide ? Math.max(to, ...seen.notes.map(({ fret }) => fret)) : to,
      notes: seen.notes,
      degrees: seen.degrees,
      hasMelody: event.melody !== undefined,
      isNamed: true,
    });
    neck.replaceChildren(pictureFrom(picture));
    neck.classList.toggle("is-other", ghost !== undefined);
  }

  function alternative(draft: Draft, event: EventReport, one: AlternativeReport): HTMLElement {
    const take = button("", () => {
      if (shown !== undefined) heard.wished(choosing(shown.wishes, event, one), "another way");
    });
    take.classList.add("take");
    take.append(
      pictureFrom(
        neckPicture({
          neck: draft.trace.neck,
          ...fretsAround(one.notes, draft.trace.neck),
          notes: one.notes,
          degrees: [],
          hasMelody: event.melody !== undefined,
          isNamed: false,
        }),
      ),
      make("span", { class: "cost" }, `+${one.extraCost}`),
      make("span", { class: "unseen" }, ` to the cost: ${wayInWords(one)}, `),
      make("span", { class: "fret-place", "aria-hidden": "true" }, placeOf(one)),
      make("span", { class: "way", "aria-hidden": "true" }, WAYS[one.attack]),
      make("span", { class: "degrees" }, one.shape?.family ?? one.degrees.join(" ")),
    );
    const listen = button("Hear", () => heard.hear(one.notes), { class: "hear quiet" });
    listen.append(make("span", { class: "unseen" }, ` it ${wayInWords(one)}`));
    const card = make(
      "li",
      { class: "other" },
      make("span", { class: "thread", "aria-hidden": "true" }),
      listen,
      take,
    );
    card.style.setProperty("--cost", String(Math.min(one.extraCost, MOST_COST)));
    card.addEventListener("pointerenter", () => drawNeck(draft, event, one));
    card.addEventListener("pointerleave", drawShown);
    take.addEventListener("focus", () => drawNeck(draft, event, one));
    take.addEventListener("blur", drawShown);
    return card;
  }

  function actionsFor(event: EventReport, wishes: readonly WrittenWish[]): readonly HTMLElement[] {
    const { measure } = event;
    const wish = (text: string, now: () => readonly WrittenWish[]) =>
      button(text, () => heard.wished(now(), text.toLowerCase()));
    const sounding = event.notes.filter(({ finger }) => finger > 0);
    const choice = make(
      "select",
      { "aria-label": "Never in this measure" },
      make("option", { value: "" }, "Never here …"),
      ...unique(sounding.map(({ finger }) => finger)).map((finger) =>
        make("option", { value: `finger ${finger}` }, `finger ${finger}`),
      ),
      ...unique(event.notes.map(({ string }) => string)).map((string) =>
        make("option", { value: `string ${string}` }, `string ${string}`),
      ),
    );
    choice.addEventListener("change", () => {
      const [what, number] = choice.value.split(" ");
      if (what === "finger")
        heard.wished(avoiding(wishes, measure, { finger: Number(number) as 1 | 2 | 3 | 4 }), choice.value);
      else if (what === "string")
        heard.wished(avoiding(wishes, measure, { string: Number(number) }), choice.value);
    });
    const isFree = !isWished(wishes, event) && freeingMeasure(wishes, measure).length === wishes.length;
    return [
      button("Hear", () => heard.hear(event.notes)),
      event.attack === "single"
        ? wish("With a chord", () => playing(wishes, event, "chord"))
        : wish("Alone", () => playing(wishes, event, "single")),
      wish("Keep this grip", () => choosing(wishes, event, event)),
      wish("Keep this measure", () => keepingMeasure(wishes, shown?.draft.report.events ?? [], measure)),
      choice,
      ...(isFree
        ? []
        : [
            isWished(wishes, event)
              ? wish("Let this grip go", () => withoutMoment(wishes, event))
              : wish("Let this measure go", () => freeingMeasure(wishes, measure)),
          ]),
    ];
  }

  return { element, show, head };
}

/** Width from which the whole neck is drawn. */
const WIDE_PX = 900;
/** Threads grow with the cost up to this many points. */
const MOST_COST = 300;

const KEYS: Readonly<Record<string, (moment: number, events: readonly EventReport[]) => number>> = {
  ArrowRight: (moment, events) => Math.min(moment + 1, events.length - 1),
  ArrowLeft: (moment) => Math.max(moment - 1, 0),
  ArrowUp: (moment, events) => Math.min(moment + 1, events.length - 1),
  ArrowDown: (moment) => Math.max(moment - 1, 0),
  PageDown: (moment, events) => {
    const next = events.findIndex((event) => event.measure > (events[moment]?.measure ?? 0));
    return next < 0 ? events.length - 1 : next;
  },
  PageUp: (moment, events) => {
    const here = events[moment]?.measure ?? 1;
    const before = events.findLast((event) => event.measure < here)?.measure ?? 0;
    return Math.max(
      events.findIndex((event) => event.measure === before),
      0,
    );
  },
  Home: () => 0,
  End: (_moment, events) => events.length - 1,
};

/** Moments that the hand reaches in the greatest hurry, hardest first. */
export function hardMoments({ trace }: Draft): readonly number[] {
  return trace.moves
    .filter(({ moveMm, secondsAvailable }) => moveMm > 0 && secondsAvailable > 0)
    .toSorted(
      (one, other) =>
        other.moveMm / other.secondsAvailable - one.moveMm / one.secondsAvailable || one.to - other.to,
    )
    .slice(0, 8)
    .map(({ to }) => to);
}

const WAYS: Readonly<Record<AlternativeReport["attack"], string>> = {
  struck: "struck",
  held: "rings on",
  single: "alone",
  under: "struck under it",
};

function placeOf({ notes }: Pick<AlternativeReport, "notes">): string {
  const stopped = notes.map(({ fret }) => fret).filter((fret) => fret > 0);
  return stopped.length === 0 ? "open" : `fret ${Math.min(...stopped)}`;
}

const topOf = ({ melody, melodyDegree }: EventReport): string =>
  melody === undefined
    ? "melody rests"
    : `${melody}${melodyDegree === undefined ? "" : ` · ${melodyDegree} on top`}`;

function factsOf(draft: Draft, event: EventReport, moment: number): readonly HTMLElement[] {
  const rows: (readonly [string, string])[] = [
    [
      "Played",
      `${wayInWords(event)}${event.whySingle === undefined ? "" : `: ${WHY_SINGLE_TEXTS[event.whySingle]}`}`,
    ],
  ];
  if (event.degrees.length > 0) rows.push(["Sounds", event.degrees.map(degreeInWords).join(", ")]);
  if (event.leftByMelody !== undefined)
    rows.push(["Left by the melody", event.leftByMelody.map(degreeInWords).join(", ")]);
  if (event.shape !== undefined) rows.push(["Shape", shapeName(event.shape)]);
  const leftOut = [
    ...event.leftOut.map(({ degree, reason }) => `${degreeInWords(degree)}: ${LEFT_OUT_TEXTS[reason]}`),
    ...(event.voicesLeftOut ?? []).map(voiceLeftOutText),
  ];
  if (leftOut.length > 0) rows.push(["Left out", leftOut.join("; ")]);
  if (event.plucked !== undefined)
    rows.push(["Right hand", event.plucked.map(({ finger }) => finger).join(" ")]);
  if (event.damped !== undefined)
    rows.push(["Right hand", `brushes through string ${event.damped.join(", ")}, damped`]);
  const move = draft.trace.moves.find(({ from, to }) => from === moment && to === moment + 1);
  if (move !== undefined)
    rows.push([
      "Then",
      move.effort === "still"
        ? "the hand stays"
        : `${Math.round(move.moveMm)} mm in ${move.secondsAvailable.toFixed(2)} s: ${EFFORTS[move.effort]}`,
    ]);
  return rows.flatMap(([name, value]) => [make("dt", {}, name), make("dd", {}, value)]);
}

export const EFFORTS = {
  still: "the hand stays",
  easy: "an easy move",
  brisk: "a brisk move",
  hard: "a hard move",
  beyond: "faster than the hand is said to travel",
} as const;

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

const unique = <Item>(items: readonly Item[]): readonly Item[] => [...new Set(items)];
