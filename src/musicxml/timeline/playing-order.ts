import type { Jump, Stretch } from "../../song/tune.js";
import { attributeOf, childNamed, everyNamed, type XmlElement } from "../../xml/xml-tree.js";

import { numberFrom, numbersFrom } from "../numbers/read-number.js";
import { byMeasure, type WalkedPart } from "./walked-part.js";

/** What one measure says about where playing goes on. */
interface Signs {
  startsRepeat: boolean;
  /** How often the strain is played in all, where the measure ends one. */
  endsRepeat: number | undefined;
  /** Passes the measure belongs to, where it is under an ending bracket. */
  ending: ReadonlySet<number> | undefined;
  endsEnding: boolean;
  segno: boolean;
  coda: boolean;
  toCoda: boolean;
  fine: boolean;
  back: "start" | "segno" | undefined;
}

/** A strain is played twice unless its repeat sign says otherwise. */
const USUAL_PASSES = 2;
/** No tune goes round this often; a form that never ends is left here. */
const MOST_STEPS_A_MEASURE = 64;

/** After a D.C. or D.S. every strain is played as it is the last time. */
const LAST_PASS = Number.POSITIVE_INFINITY;

/** A jump between measures: from the end of one to the start of another, by index. */
export interface MeasureJump {
  readonly after: number;
  readonly to: number;
}

/** Every place where the next measure played is not the next one written, in the order of playing, each once. */
export function jumpsIn(played: readonly number[]): readonly MeasureJump[] {
  const jumps = new Map<string, MeasureJump>();
  played.forEach((to, index) => {
    const after = played[index - 1];
    if (after !== undefined && to !== after + 1) jumps.set(`${after} ${to}`, { after, to });
  });
  return [...jumps.values()];
}

/** The order of playing in ticks, cut at its jumps. `startOf` a measure, by index; of the one after the last too. */
export function stretchesOf(
  played: readonly number[],
  startOf: (measure: number) => number,
): readonly Stretch[] {
  const stretches: Stretch[] = [];
  let first = played[0];
  played.forEach((measure, index) => {
    if (played[index + 1] === measure + 1 || first === undefined) return;
    stretches.push({ from: startOf(first), to: startOf(measure + 1) });
    first = played[index + 1];
  });
  return stretches;
}

/**
 * The measures of a form as they are played, by index: by repeat signs, ending numbers and sound attributes, never
 * by printed text. After a D.C. or D.S. repeats are not taken again. What never ends is left at some time.
 */
export function measuresAsPlayed(part: WalkedPart): readonly number[] {
  const signs = signsOf(part);
  const played: number[] = [];
  let measure = 0;
  let pass = 1;
  let strainStart = 0;
  let hasGoneBack = false;
  for (let step = 0; step < signs.length * MOST_STEPS_A_MEASURE; step += 1) {
    const here = signs[measure];
    if (here === undefined) break;
    if (here.startsRepeat && measure !== strainStart) {
      strainStart = measure;
      pass = 1;
    }
    const isSkipped = here.ending !== undefined && isLeftOut(signs, measure, hasGoneBack ? LAST_PASS : pass);
    if (isSkipped) {
      measure += 1;
      continue;
    }
    played.push(measure);

    if (hasGoneBack && here.fine) break;
    if (hasGoneBack && here.toCoda) {
      const coda = signs.findIndex((sign) => sign.coda);
      if (coda > measure) {
        measure = coda;
        continue;
      }
    }
    if (here.back !== undefined && !hasGoneBack) {
      const target = here.back === "start" ? 0 : signs.findIndex((sign) => sign.segno);
      // A repeat that ends in the same bar is played out first.
      const isRepeatDone = here.endsRepeat === undefined || pass >= passesOf(signs, measure);
      if (target >= 0 && isRepeatDone) {
        hasGoneBack = true;
        measure = target;
        strainStart = target;
        pass = 1;
        continue;
      }
    }
    if (here.endsRepeat !== undefined && !hasGoneBack && pass < passesOf(signs, measure)) {
      pass += 1;
      measure = strainStart;
      continue;
    }
    const isStrainOver =
      here.endsRepeat !== undefined || (here.endsEnding && signs[measure + 1]?.ending === undefined);
    measure += 1;
    if (isStrainOver && signs[measure]?.ending === undefined) {
      strainStart = measure;
      pass = 1;
    }
  }
  return played;
}

/** Ticks in place of measures. */
export const jumpAt = (jump: MeasureJump, startOf: (measure: number) => number): Jump => ({
  from: startOf(jump.after + 1),
  to: startOf(jump.to),
});

/** Whether an ending with other numbers follows directly on the one a measure is in. */
function hasLaterEnding(signs: readonly Signs[], measure: number): boolean {
  const own = signs[measure]?.ending;
  for (let next = measure + 1; signs[next]?.ending !== undefined; next += 1)
    if (signs[next]?.ending !== own) return true;
  return false;
}

/** Whether the ending a measure is in is not the one for this pass; the last ending there is always serves. */
function isLeftOut(signs: readonly Signs[], measure: number, pass: number): boolean {
  const own = signs[measure]?.ending ?? new Set();
  if (own.has(pass)) return false;
  return hasLaterEnding(signs, measure) || (leadsBackAlone(signs, measure) && pass > Math.max(...own, 1));
}

/** Whether a measure is in a lone ending that ends in a repeat: what follows it is the next, without a bracket. */
function leadsBackAlone(signs: readonly Signs[], measure: number): boolean {
  const own = signs[measure]?.ending;
  if (own === undefined || signs[firstUnderBracket(signs, measure)]?.ending !== own) return false;
  if (hasLaterEnding(signs, measure)) return false;
  for (let next = firstUnderBracket(signs, measure); signs[next]?.ending === own; next += 1)
    if (signs[next]?.endsRepeat !== undefined) return true;
  return false;
}

function firstUnderBracket(signs: readonly Signs[], measure: number): number {
  let first = measure;
  while (signs[first - 1]?.ending !== undefined) first -= 1;
  return first;
}

/** Passes in all of the strain that a measure ends: by the numbers of its endings, else by the sign. */
function passesOf(signs: readonly Signs[], measure: number): number {
  const own = signs[measure];
  if (own?.ending === undefined) return own?.endsRepeat ?? 1;
  let highest = 1;
  for (let next = firstUnderBracket(signs, measure); signs[next]?.ending !== undefined; next += 1)
    highest = Math.max(highest, ...(signs[next]?.ending ?? []));
  return leadsBackAlone(signs, measure) ? highest + 1 : highest;
}

function signsOf(part: WalkedPart): readonly Signs[] {
  const signs = part.measures.map(
    (): Signs => ({
      startsRepeat: false,
      endsRepeat: undefined,
      ending: undefined,
      endsEnding: false,
      segno: false,
      coda: false,
      toCoda: false,
      fine: false,
      back: undefined,
    }),
  );
  const barlines = byMeasure(part.barlines);
  let open: ReadonlySet<number> | undefined;
  signs.forEach((sign, index) => {
    for (const { element } of barlines.get(index) ?? []) {
      const repeat = childNamed(element, "repeat");
      const ending = childNamed(element, "ending");
      const direction = repeat && attributeOf(repeat, "direction");
      if (direction === "forward") sign.startsRepeat = true;
      if (repeat !== undefined && direction === "backward")
        sign.endsRepeat = numberFrom("repeat@times", attributeOf(repeat, "times")) ?? USUAL_PASSES;
      if (ending === undefined) continue;
      if (attributeOf(ending, "type") === "start")
        open = numbersFrom("ending@number", attributeOf(ending, "number") ?? "");
      else sign.endsEnding = true;
    }
    sign.ending = open;
    if (sign.endsEnding) open = undefined;
  });
  for (const item of part.directions) {
    const sign = signs[item.measure];
    if (sign === undefined) continue;
    for (const sound of everyNamed(item.element, "sound")) readSound(sound, sign);
  }
  return signs;
}

function readSound(sound: XmlElement, sign: Signs): void {
  const has = (name: string) => {
    const value = attributeOf(sound, name);
    return value !== undefined && value !== "" && value !== "no";
  };
  if (has("dacapo")) sign.back = "start";
  if (has("dalsegno")) sign.back = "segno";
  if (has("segno")) sign.segno = true;
  if (has("coda")) sign.coda = true;
  if (has("tocoda")) sign.toCoda = true;
  if (has("fine")) sign.fine = true;
}
