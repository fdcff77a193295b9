import { oneLine } from "./one-line.js";

/** Where in a score a finding belongs. Every field that is known is given. */
export interface Place {
  /** The file as the person named it. */
  readonly file?: string;
  /** The part's id or name. */
  readonly part?: string;
  /** The measure's position in its part, counted from 1 whatever its number says. */
  readonly measure?: number;
  /** The measure's own number, a label such as "12a" or "X1"; given where it differs from `measure`. */
  readonly measureLabel?: string;
  /** Beats of the meter from the start of the measure, plus 1: 2 is the fourth eighth of 6/8. */
  readonly beat?: number;
  /** Line and column of the text, both from 1, for a file that is not well-formed. */
  readonly line?: number;
  readonly column?: number;
}

export type Severity = "error" | "warning" | "note";

/** One thing worth saying about a score or about what was asked. Made in one function a rule. */
export interface Finding {
  /** A stable name in kebab-case, such as "chord-kind-unlisted". */
  readonly rule: string;
  readonly severity: Severity;
  readonly place: Place;
  /** What is there. */
  readonly found: string;
  /** What was expected, or what would work. */
  readonly expected: string;
  /** One sentence for a person, without the place. */
  readonly message: string;
  /** What to do about it. */
  readonly hint?: string;
}

/** The same finding with the file that it is about, where it does not name one. */
export const ofFile = (file: string, finding: Finding): Finding => ({
  ...finding,
  place: { file, ...finding.place },
});

/** Collects findings while a score is worked on; the core never prints. */
export class Findings {
  readonly #list: Finding[] = [];
  readonly #said = new Set<string>();

  /** Adds a finding; the same rule with the same words at the same place is kept once. */
  add(finding: Finding): void {
    const key = JSON.stringify([finding.rule, finding.place, finding.message]);
    if (this.#said.has(key)) return;
    this.#said.add(key);
    this.#list.push(finding);
  }

  get all(): readonly Finding[] {
    return this.#list;
  }
}

/** Ends the work on one score; carries the same record as a collected finding. */
export class ScoreError extends Error {
  readonly finding: Finding;

  constructor(finding: Omit<Finding, "severity">) {
    super(finding.message);
    this.name = "ScoreError";
    this.finding = { ...finding, severity: "error" };
  }

  /** The same error with what a caller further out knows of the place, usually the file. */
  at(place: Place): ScoreError {
    return new ScoreError({ ...this.finding, place: { ...place, ...this.finding.place } });
  }
}

/** On one line: "kettle.musicxml, measure 12 (numbered 11a), beat 3: warning: Unexpected chord kind ... */
export function textOfFinding(finding: Finding): string {
  const { file, part, measure, measureLabel, beat, line, column } = finding.place;
  const where = [
    file,
    part === undefined ? undefined : `part ${part}`,
    line === undefined ? undefined : `line ${line}, column ${column ?? 1}`,
    measure === undefined
      ? undefined
      : `measure ${measure}${measureLabel === undefined ? "" : ` (numbered ${measureLabel})`}`,
    beat === undefined ? undefined : `beat ${Math.round(beat * 1000) / 1000}`,
  ].filter((piece) => piece !== undefined);
  const head = where.length > 0 ? `${where.join(", ")}: ` : "";
  return oneLine(
    `${head}${finding.severity}: ${finding.message}${finding.hint === undefined ? "" : ` ${finding.hint}`}`,
  );
}
