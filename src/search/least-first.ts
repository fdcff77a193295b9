/**
 * Numbers from 0 up that wait, the one with the least figure taken first, of equal figures the lowest number: a binary heap
 * that knows where each number lies in it.
 */
export class LeastFirst {
  private readonly figures: Float64Array;
  /** Each number that waits, none before the one at half its place. */
  private readonly heap: number[] = [];
  /** By number its place in the heap. */
  private readonly placeOf: Int32Array;

  constructor(count: number) {
    this.figures = new Float64Array(count);
    this.placeOf = new Int32Array(count).fill(NOWHERE);
  }

  /** Lets a number wait with a figure, or with another one than before. */
  put(one: number, figure: number): void {
    this.figures[one] = figure;
    const before = this.placeOf[one] ?? NOWHERE;
    const place = before === NOWHERE ? this.heap.push(one) - 1 : before;
    this.sink(this.rise(place, one), one);
  }

  /** The one whose turn it is; undefined where none waits. */
  take(): number | undefined {
    const [first] = this.heap;
    const last = this.heap.pop();
    if (first === undefined || last === undefined) return undefined;
    if (first !== last) this.sink(0, last);
    this.placeOf[first] = NOWHERE;
    return first;
  }

  /** Moves up what comes after a number that is to lie at a place; answers the place that is then free for it. */
  private rise(from: number, one: number): number {
    let place = from;
    while (place > 0) {
      const above = (place - 1) >> 1;
      const other = this.heap[above] ?? 0;
      if (this.isBefore(other, one)) break;
      this.lay(other, place);
      place = above;
    }
    return place;
  }

  /** Lays a number at a place or below it, behind all that come before it. */
  private sink(from: number, one: number): void {
    let place = from;
    for (let below = 2 * place + 1; below < this.heap.length; below = 2 * place + 1) {
      const left = this.heap[below] ?? 0;
      const right = this.heap[below + 1];
      const [least, at] =
        right !== undefined && this.isBefore(right, left) ? [right, below + 1] : [left, below];
      if (this.isBefore(one, least)) break;
      this.lay(least, place);
      place = at;
    }
    this.lay(one, place);
  }

  private lay(one: number, place: number): void {
    this.heap[place] = one;
    this.placeOf[one] = place;
  }

  private isBefore(one: number, other: number): boolean {
    const figure = this.figures[one] ?? 0;
    const figureOfOther = this.figures[other] ?? 0;
    return figure < figureOfOther || (figure === figureOfOther && one < other);
  }
}

const NOWHERE = -1;
