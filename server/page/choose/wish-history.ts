import type { AlternativeReport, EventReport, WishesFile, WrittenWish } from "undervoice";

/** A player's wishes with what they were before, so that every step can be taken back. */
export interface WishHistory {
  readonly now: readonly WrittenWish[];
  readonly before: readonly (readonly WrittenWish[])[];
  readonly after: readonly (readonly WrittenWish[])[];
}

export const NOTHING_WISHED: WishHistory = { now: [], before: [], after: [] };

export const wishing = (history: WishHistory, now: readonly WrittenWish[]): WishHistory => ({
  now,
  before: [...history.before, history.now],
  after: [],
});

export function undone({ now, before, after }: WishHistory): WishHistory | undefined {
  const last = before.at(-1);
  return last && { now: last, before: before.slice(0, -1), after: [now, ...after] };
}

export function redone({ now, before, after }: WishHistory): WishHistory | undefined {
  const [next, ...later] = after;
  return next && { now: next, before: [...before, now], after: later };
}

/** The file that the command line takes. */
export const wishesText = (wishes: WishesFile): string => `${JSON.stringify(wishes, undefined, 2)}\n`;

type Moment = Pick<EventReport, "measure" | "beat">;

const isAt = (wish: WrittenWish, { measure, beat }: Moment): boolean =>
  "beat" in wish && wish.measure === measure && wish.beat === beat;

/** Whether a player has said how a moment is to be played. */
export const isWished = (wishes: readonly WrittenWish[], moment: Moment): boolean =>
  wishes.some((wish) => isAt(wish, moment));

/** With no wish for a moment. */
export const withoutMoment = (wishes: readonly WrittenWish[], moment: Moment): readonly WrittenWish[] =>
  wishes.filter((wish) => !isAt(wish, moment));

const withWish = (wishes: readonly WrittenWish[], wish: WrittenWish & Moment): readonly WrittenWish[] => [
  ...withoutMoment(wishes, wish),
  wish,
];

/** What can be chosen at a moment: what is played there, or another way to play it. */
type Way = Pick<AlternativeReport, "attack" | "notes">;

/** A way to play a moment as a wish for its grip. */
export function wishForGrip(moment: Moment & Pick<EventReport, "melody">, way: Way): WrittenWish & Moment {
  const supports = moment.melody === undefined ? way.notes.length : way.notes.length - 1;
  return {
    measure: moment.measure,
    beat: moment.beat,
    grip: way.notes.map(({ string, fret, finger }, index) => ({
      string,
      fret,
      finger,
      ...(way.attack === "held" && index < supports ? { held: true } : {}),
    })),
  };
}

export const choosing = (
  wishes: readonly WrittenWish[],
  moment: Moment & Pick<EventReport, "melody">,
  way: Way,
): readonly WrittenWish[] => withWish(wishes, wishForGrip(moment, way));

export const playing = (
  wishes: readonly WrittenWish[],
  { measure, beat }: Moment,
  play: "single" | "chord",
): readonly WrittenWish[] => withWish(wishes, { measure, beat, play });

/** Every moment of a measure as it is now. Moments at which nothing sounds have nothing to keep. */
export const keepingMeasure = (
  wishes: readonly WrittenWish[],
  events: readonly EventReport[],
  measure: number,
): readonly WrittenWish[] =>
  events
    .filter((event) => event.measure === measure && event.notes.length > 0)
    .reduce((all, event) => choosing(all, event, event), wishes);

/** Without a finger, or a string, in a measure; what was wished of its grips before is let go where it clashes. */
export function avoiding(
  wishes: readonly WrittenWish[],
  measure: number,
  what: { readonly finger: 1 | 2 | 3 | 4 } | { readonly string: number },
): readonly WrittenWish[] {
  const avoid = "finger" in what ? { fingers: [what.finger] } : { strings: [what.string] };
  const clashes = (wish: WrittenWish) =>
    "grip" in wish &&
    wish.measure === measure &&
    wish.grip.some((note) => ("finger" in what ? note.finger === what.finger : note.string === what.string));
  return [...wishes.filter((wish) => !clashes(wish)), { measures: [measure], avoid }];
}

/** With all that was wished of a measure taken back. */
export const freeingMeasure = (wishes: readonly WrittenWish[], measure: number): readonly WrittenWish[] =>
  wishes.filter((wish) =>
    "beat" in wish
      ? wish.measure !== measure
      : wish.measures[0] !== measure || (wish.measures[1] ?? measure) !== measure,
  );

/** "measure 3, beat 2: this grip", for a list. */
export function wishInWords(wish: WrittenWish): string {
  if ("beat" in wish) {
    const place = `Measure ${wish.measure}, beat ${wish.beat}`;
    if ("play" in wish) return `${place}: ${wish.play === "single" ? "alone" : "with a chord"}`;
    const frets = wish.grip.map(
      ({ string, fret }) => `string ${string} ${fret === 0 ? "open" : `fret ${fret}`}`,
    );
    return `${place}: ${frets.join(", ")}`;
  }
  const [first, last = first] = wish.measures;
  const place = first === last ? `Measure ${first}` : `Measures ${first} to ${last}`;
  if ("texture" in wish) return `${place}: ${wish.texture}`;
  if (!("avoid" in wish)) return `${place}: the tune is ${wish.melody}`;
  const { fingers = [], strings = [], frets } = wish.avoid;
  const what = [
    ...fingers.map((finger) => `finger ${finger}`),
    ...strings.map((string) => `string ${string}`),
    ...(frets === undefined ? [] : [`frets ${frets[0]} to ${frets[1]}`]),
  ];
  return `${place}: without ${what.join(", ")}`;
}
