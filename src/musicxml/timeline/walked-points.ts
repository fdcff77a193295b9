import { firstWhere } from "../../song/in-time-order.js";
import { type Quarters, ZERO } from "./exact-time.js";
import { ROUNDING } from "./note-length.js";

/** A point of a bar where a note or forward ended: by durations alone, and as it was read. */
interface Point {
  readonly byDurations: Quarters;
  readonly at: Quarters;
}

/**
 * The points of a bar that a backup may lead to. Durations are rounded in many files, and tuplets are read exactly: from
 * then on the two times of a point differ, and backups are written against the first of them.
 */
export class WalkedPoints {
  /** By durations, each once. */
  readonly #points: Point[] = [{ byDurations: ZERO, at: ZERO }];
  #isDrifted = false;

  add(byDurations: Quarters, at: Quarters): void {
    const index = firstWhere(this.#points, (point) => point.byDurations.gte(byDurations));
    if (this.#points[index]?.byDurations.equals(byDurations)) return;
    this.#points.splice(index, 0, { byDurations, at });
    if (!at.equals(byDurations)) this.#isDrifted = true;
  }

  /**
   * The time read at a point of the time by durations. A backup may miss the point it was meant for by a hair; the
   * nearest point within a sixty-fourth is taken.
   */
  at(byDurations: Quarters): Quarters {
    if (!this.#isDrifted) return byDurations;
    const index = firstWhere(this.#points, (point) => point.byDurations.gte(byDurations));
    const [before, after] = [this.#points[index - 1], this.#points[index]];
    const nearest =
      before === undefined ||
      (after !== undefined && distance(after, byDurations).lt(distance(before, byDurations)))
        ? after
        : before;
    if (nearest === undefined) return byDurations;
    const miss = byDurations.sub(nearest.byDurations);
    return miss.abs().lt(ROUNDING) ? nearest.at : nearest.at.add(miss);
  }
}

const distance = (point: Point, byDurations: Quarters): Quarters => point.byDurations.sub(byDurations).abs();
