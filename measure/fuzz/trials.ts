import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import {
  completeOptions,
  type Finding,
  OPTIONS,
  OPTIONS_FOR,
  type OptionName,
  OptionsError,
  readWishes,
  textOfFinding,
  WishesError,
  type WishesFile,
} from "undervoice";
import { HostError, readHost } from "#built/plugin-adapters/host/read-host.js";
import type { WorkerPool } from "#built/work/workers/worker-pool.js";
import { mutatedJson } from "./json-mutations.js";
import { mutated, pick, type Random } from "./mutations.js";

/** What came of one input. */
export interface Outcome {
  readonly kind: "arranged" | "refused";
  /** What is wrong with that; undefined where nothing is. */
  readonly fault: string | undefined;
}

/** Something that is tried: the texts that went in, and what came of them. */
export interface Trial {
  readonly name: string;
  readonly texts: readonly string[];
  outcome(): Promise<Outcome>;
}

/** Makes one trial of its kind out of the scores there are. */
export type MakeTrial = (scores: readonly string[], random: Random) => Trial | Promise<Trial>;

/** What options that are free text are given. */
const TEXTS: Readonly<Record<string, readonly string[]>> = {
  key: ["keep", "best", "Eb", "F#m"],
  melody: ["auto", "top"],
  tuning: ["DADGAD", "open-G", "B1 E2 A2 D3 G3 B3 E4", "A2 D3 F#3 B3", "G4 C4 E4 A4"],
  strings: ["1-3", "2", "1-6"],
};

/** A few options with values that the table allows, at its ends and between; those that contradict each other are drawn anew. */
function anyOptions(random: Random): object {
  for (;;) {
    const given = Object.fromEntries(
      OPTIONS_FOR.arrange.flatMap((name) => (random(7) === 0 ? [[name, anyValue(name, random)]] : [])),
    );
    try {
      completeOptions(given);
      return given;
    } catch (error) {
      if (!(error instanceof OptionsError)) throw error;
    }
  }
}

function anyValue(name: OptionName, random: Random): unknown {
  const row: {
    readonly type: string;
    readonly enum?: readonly string[];
    readonly minimum?: number;
    readonly maximum?: number;
  } = OPTIONS[name];
  if (row.enum !== undefined) return pick<unknown>(row.enum, random);
  if (row.type === "boolean") return random(2) === 0;
  if (row.type === "string") return pick(TEXTS[name] ?? [], random);
  const { minimum = 0, maximum = 1 } = row;
  const between = minimum + ((maximum - minimum) * random(101)) / 100;
  return pick([minimum, maximum, row.type === "integer" ? Math.round(between) : between], random);
}

const REFUSED: Outcome = { kind: "refused", fault: undefined };

/** The trials there are, by how often of ten each is made. */
export const trialsIn = (pool: WorkerPool): readonly (readonly [number, MakeTrial])[] => {
  /** A score is arranged without fault and comes back as it was, with nothing new said, or is refused in one line. */
  async function arranged(xml: string, given: object, wishes?: WishesFile): Promise<Outcome> {
    const score = new TextEncoder().encode(xml);
    const options = completeOptions(given);
    const first = await pool.answer({ kind: "scoreOnly", score, options, wishes, isCompressed: false });
    if (first.kind === "refused") {
      const last = first.findings.at(-1);
      const isOneError = last?.severity === "error" && !textOfFinding(last).includes("\n");
      return { kind: "refused", fault: isOneError ? undefined : "no one error" };
    }
    const fault = (text: string | undefined): Outcome => ({ kind: "arranged", fault: text });
    const checked = await pool.answer({ kind: "check", score: first.score, options });
    if (checked.kind === "refused") return fault(`the check refuses it: ${said(checked.findings)}`);
    const errors = checked.findings.filter(({ severity }) => severity === "error");
    if (errors.length > 0) return fault(`the check finds it wrong: ${said(errors)}`);
    const again = await pool.answer({
      kind: "scoreOnly",
      score: first.score,
      options: completeOptions({}),
      isCompressed: false,
    });
    if (again.kind === "refused") return fault(`it is refused when it comes back: ${said(again.findings)}`);
    if (Buffer.compare(again.score, first.score) !== 0)
      return fault(`it changes when it comes back: ${said(again.findings)}`);
    const rules = new Set(first.findings.map(({ rule }) => rule));
    const anew = again.findings.filter(({ rule }) => !rules.has(rule));
    return fault(anew.length === 0 ? undefined : `something new is said when it comes back: ${said(anew)}`);
  }

  const spoiltScore: MakeTrial = (scores, random) => {
    const xml = mutated(pick(scores, random), random);
    const given = anyOptions(random);
    return {
      name: `score ${JSON.stringify(given)}`,
      texts: [xml],
      outcome: () => arranged(xml, given),
    };
  };

  /** A guitar score of ours that came back changed, by a person or by a program. */
  const returnedScore: MakeTrial = async (scores, random) => {
    const given = anyOptions(random);
    const score = new TextEncoder().encode(pick(scores, random));
    const made = await pool.answer({
      kind: "scoreOnly",
      score,
      options: completeOptions(given),
      isCompressed: false,
    });
    if (made.kind === "refused") return spoiltScore(scores, random);
    const xml = mutated(new TextDecoder().decode(made.score), random);
    const then = random(2) === 0 ? {} : anyOptions(random);
    return {
      name: `returned ${JSON.stringify(given)} then ${JSON.stringify(then)}`,
      texts: [xml],
      outcome: () => arranged(xml, then),
    };
  };

  const wishedScore: MakeTrial = (scores, random) => {
    const xml = random(3) === 0 ? mutated(pick(scores, random), random) : pick(scores, random);
    const json = mutatedJson(WISHES, random);
    return {
      name: "wishes",
      texts: [xml, json],
      outcome: async () => {
        let wishes: WishesFile;
        try {
          wishes = readWishes(json);
        } catch (error) {
          if (!(error instanceof WishesError)) throw error;
          return error.findings.length > 0 ? REFUSED : { kind: "refused", fault: "refused without a word" };
        }
        return arranged(xml, {}, wishes);
      },
    };
  };

  const manifest: MakeTrial = (_scores, random) => {
    const json = mutatedJson(pick(MANIFESTS, random), random);
    return {
      name: "manifest",
      texts: [json],
      outcome: async () => {
        try {
          readHost(json);
          return { kind: "arranged", fault: undefined };
        } catch (error) {
          if (!(error instanceof HostError)) throw error;
          const isSaid = error.lines.length > 0 && error.lines.every((line) => line !== "");
          return { kind: "refused", fault: isSaid ? undefined : "refused without a word" };
        }
      },
    };
  };

  return [
    [5, spoiltScore],
    [2, returnedScore],
    [2, wishedScore],
    [1, manifest],
  ];
};

/** One of each kind of wish; those that ask for what a tune cannot have are refused, and that is an outcome too. */
const WISHES = JSON.stringify({
  wishes: [
    { measure: 1, beat: 1, play: "single" },
    { measure: 2, beat: 1, play: "chord" },
    {
      measure: 3,
      beat: 1,
      grip: [
        { string: 2, fret: 3, finger: 2 },
        { string: 1, fret: 3 },
      ],
    },
    { measures: [2, 4], avoid: { fingers: [4], strings: [6], frets: [9, 12] } },
    { measures: [1], texture: "full" },
  ],
});

const EXAMPLES = "plugin-adapters/host/examples";
const MANIFESTS = readdirSync(EXAMPLES)
  .filter((name) => name.endsWith(".json"))
  .map((name) => readFileSync(join(EXAMPLES, name), "utf8"));

const said = (findings: readonly Finding[]): string => findings.map(textOfFinding).slice(-2).join(" / ");
