import type { ArrangedEvent, Arrangement } from "../arrangement/arrangement.js";
import type { TuneWishes } from "../arranging/arrange-settings.js";
import { arrangeTune } from "../arranging/arrange-tune.js";
import { arrangingProblem } from "../arranging/tune-problem.js";
import type { Finding, Findings } from "../diagnostics.js";
import { eventLinks } from "../song/playing-links.js";
import type { Tune } from "../song/tune.js";
import type { GripWish, Wish } from "../wishes/wishes.js";
import {
  arrangedAnew,
  editKept,
  editRefused,
  mostlyOther,
  neighboursMoved,
  placeAt,
  restNotKept,
} from "./edit-findings.js";
import { type Edit, type EditWishes, isAskedAt, wishesFromEdits } from "./edit-wishes.js";
import { editsAtOdds } from "./edits-at-odds.js";
import type { ReturnedPart } from "./guitar-part-notes.js";
import { sayLostEdits } from "./lost-edits.js";

/** Up to here each edit is a finding of its own, unless most of the moments are edits. */
const EDITS_SAID_ONE_BY_ONE = 40;

/**
 * Arranges a tune around what a player changed in its guitar part. `fresh` is the arrangement as it was
 * written, `tune` lies where the guitar plays it, `wishes` are those of the new arrangement. What the
 * player did not touch stays as it came; only the moments beside an edit move, and they only where the
 * hand could not get there in time. undefined where the tune cannot be played there as it is asked now.
 */
export function arrangeAroundEdits(
  fresh: Arrangement,
  tune: Tune,
  returned: ReturnedPart,
  wishes: TuneWishes,
  findings: Findings,
): Arrangement | undefined {
  const edits = wishesFromEdits(fresh, tune, returned, wishes, findings);
  const isAllAsWritten = edits.isAsWritten && returned.isRestKept && wishes.wishes.length === 0;
  const kept = returned.isRestKept ? edits.kept : [];
  const around = isAllAsWritten
    ? { arrangement: fresh, granted: edits.edits, rest: kept, said: [] }
    : aroundEdits(fresh, tune, edits.edits, kept, wishes);
  if (around === undefined) return undefined;
  sayEdits({ ...edits, granted: around.granted }, tune, wishes.wishes, findings);
  for (const finding of around.said) findings.add(finding);
  sayLostEdits(
    returned.guitar,
    tune,
    fresh,
    around.arrangement,
    [...around.granted.map(({ wish }) => wish), ...around.rest],
    findings,
  );
  return around.arrangement;
}

/** An arrangement with as much of what came as goes together. */
interface AroundEdits {
  readonly arrangement: Arrangement;
  /** The edits that are in it. */
  readonly granted: readonly Edit[];
  /** What the player did not touch and was asked to stay. */
  readonly rest: readonly GripWish[];
  readonly said: readonly Finding[];
}

function aroundEdits(
  fresh: Arrangement,
  tune: Tune,
  edits: readonly Edit[],
  kept: readonly GripWish[],
  wishes: TuneWishes,
): AroundEdits | undefined {
  const around = (own: readonly Edit[], rest: readonly GripWish[]): Arrangement | undefined =>
    arrangeTune(tune, fresh.transposition, {
      ...wishes,
      wishes: [...wishes.wishes, ...own.map(({ wish }) => wish), ...rest],
    });
  const asItCame = around(edits, kept);
  if (asItCame === undefined) return withoutRest(tune, edits, wishes, (own) => around(own, []));
  const before = hurriedMoves(tune, fresh, wishes);
  const hurried = hurriedMoves(tune, asItCame, wishes);
  const unwritten = hurried.filter((move) => !before.includes(move));
  const own = edits.map(({ wish }) => wish);
  for (const reach of REACHES) {
    const moving = movingBeside(own, kept, asItCame, unwritten, reach);
    if (moving.size === 0) break;
    const freed = around(
      edits,
      kept.filter(({ at }) => !moving.has(at)),
    );
    if (freed === undefined || hurriedMoves(tune, freed, wishes).length >= hurried.length) continue;
    const said = [neighboursMoved(placeAt(tune, Math.min(...moving)), moving.size)];
    return { arrangement: freed, granted: edits, rest: kept, said };
  }
  return { arrangement: asItCame, granted: edits, rest: kept, said: [] };
}

/**
 * What came does not go together as a whole: all edits without the rest, or those of them that go with one another. An
 * edit may also be at odds with what is asked now, such as a bass: that was asked last, and counts.
 */
function withoutRest(
  tune: Tune,
  edits: readonly Edit[],
  wishes: TuneWishes,
  around: (own: readonly Edit[]) => Arrangement | undefined,
): AroundEdits | undefined {
  const problemWith = (own: readonly Edit[]) =>
    arrangingProblem(tune, { ...wishes, wishes: [...wishes.wishes, ...own.map(({ wish }) => wish)] });
  let left = edits;
  while (left.length > 0) {
    const atOdds = editsAtOdds(problemWith(left), left);
    if (atOdds.size === 0) break;
    left = left.filter((edit) => !atOdds.has(edit));
  }
  const withThose = around(left);
  const granted = withThose === undefined ? [] : left;
  const arrangement = withThose ?? around([]);
  return arrangement && { arrangement, granted, rest: [], said: [restNotKept()] };
}

/** How many moments beside an edit may move, the fewest first. */
const REACHES = [1, 2, 4];

/** Moves that the hand cannot make in time, as "from-to" in ticks. */
function hurriedMoves(tune: Tune, { events }: Arrangement, wishes: TuneWishes): readonly string[] {
  const moments = events.map(({ onset }, index) => ({ onset, index }));
  return eventLinks(tune, moments, wishes.tempo).flatMap(({ from, to, seconds }) => {
    const [start, end] = [events[from], events[to]];
    if (start === undefined || end === undefined) return [];
    const isHurried = Math.abs(end.handMm - start.handMm) > wishes.shift * seconds;
    return isHurried ? [`${start.onset}-${end.onset}`] : [];
  });
}

/** The moments beside an edit that would have to move with it, with all that rings on from them. */
function movingBeside(
  own: readonly GripWish[],
  kept: readonly GripWish[],
  arrangement: Arrangement,
  hurried: readonly string[],
  reach: number,
): ReadonlySet<number> {
  const edited = new Set(own.map(({ at }) => at));
  const free = new Set(kept.map(({ at }) => at).filter((at) => !edited.has(at)));
  const moving = new Set<number>();
  const { events } = arrangement;
  for (const move of hurried) {
    const [from = 0, to = 0] = move.split("-").map(Number);
    if (edited.has(from) === edited.has(to)) continue;
    const step = edited.has(from) ? 1 : -1;
    const first = events.findIndex(({ onset }) => onset === (step > 0 ? to : from));
    for (let count = 0; count < reach; count += 1) {
      const next = events[first + step * count];
      const chain = next === undefined ? [] : hangingTogether(arrangement, next.onset);
      if (chain.length === 0 || !chain.every((at) => free.has(at))) break;
      for (const at of chain) moving.add(at);
    }
  }
  return moving;
}

/** A moment with those it hangs together with: what rings on from one to the other keeps its place. */
function hangingTogether({ events, supports }: Arrangement, at: number): readonly number[] {
  const index = events.findIndex(({ onset }) => onset === at);
  const ringsOn = (event: ArrangedEvent | undefined, before: ArrangedEvent | undefined): boolean =>
    event !== undefined &&
    before !== undefined &&
    ((event.melodyNote !== undefined && event.melodyNote === before.melodyNote) ||
      event.supports.some(
        (support) =>
          before.supports.includes(support) ||
          (before.melodyNote !== undefined && supports[support]?.leftByMelody === before.melodyNote),
      ));
  let first = index;
  while (ringsOn(events[first], events[first - 1])) first -= 1;
  let last = index;
  while (ringsOn(events[last + 1], events[last])) last += 1;
  return events.slice(first, last + 1).map(({ onset }) => onset);
}

function sayEdits(
  { edits, granted, kept, anew }: EditWishes & Pick<AroundEdits, "granted">,
  tune: Tune,
  asked: readonly Wish[],
  findings: Findings,
): void {
  const moments = edits.length + kept.length + anew.length;
  if (granted.length > EDITS_SAID_ONE_BY_ONE || (granted.length > 8 && granted.length * 2 > moments))
    findings.add(mostlyOther(granted.length, moments));
  else
    for (const { wish, written } of granted)
      findings.add(editKept(placeAt(tune, wish.at), written, wish.strings));
  for (const { wish } of edits.filter((edit) => !granted.includes(edit)))
    findings.add(
      editRefused(placeAt(tune, wish.at), wish.strings, "It does not go with what is asked for now."),
    );
  const measures = new Map<number, number[]>();
  for (const at of anew.filter((tick) => !isAskedAt(asked, tick))) {
    const measure = placeAt(tune, at).measure ?? 1;
    measures.set(measure, [...(measures.get(measure) ?? []), at]);
  }
  for (const here of measures.values()) findings.add(arrangedAnew(placeAt(tune, here[0] ?? 0), here.length));
}
