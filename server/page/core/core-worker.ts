import {
  completeOptions,
  engravingCopy,
  type Finding,
  Findings,
  handTrace,
  OptionsError,
  performanceOf,
  printXml,
  readScore,
  readWishes,
  ScoreError,
  sheetHtml,
  sheetOf,
  surveyKeys,
  WishesError,
} from "undervoice";
import type {
  Asked,
  CoreAnswers,
  CoreQuestion,
  CoreReply,
  CoreRequest,
  Draft,
  Engraving,
  GivenOptions,
} from "./core-messages.js";
import { fileOf } from "./files.js";
import { quartersPerMinute } from "./tempo.js";
import { type TuneAtHand, tuneAtHand } from "./tune-at-hand.js";

/** The thread that holds the score: it reads, arranges and writes, and asks nothing of any other machine. */
interface Thread {
  postMessage(reply: CoreReply): void;
  addEventListener(kind: "message", hear: (event: MessageEvent<CoreRequest>) => void): void;
}
const thread = self as unknown as Thread;

let tune: TuneAtHand | undefined;

thread.addEventListener("message", ({ data: { id, question } }) => {
  try {
    thread.postMessage({ id, kind: "answer", answer: answerTo(question, id) });
  } catch (error) {
    thread.postMessage({ id, kind: "refused", findings: findingsIn(error) });
  }
});

function answerTo(question: CoreQuestion, id: number): CoreAnswers[CoreQuestion["kind"]] {
  if (question.kind === "wishes") return readWishes(question.text);
  if (question.kind === "open") {
    tune = tuneAtHand(question.bytes);
    return { ...engraved(tune.document, "both"), hasGuitar: false };
  }
  if (question.kind === "keys") {
    const document = readScore(question.bytes, new Findings());
    const options = completeOptions(question.options);
    const { keys, key } = surveyKeys(document, options, new Findings(), (name, place) =>
      thread.postMessage({ id, kind: "part", part: { key: name, place } }),
    );
    return { keys, written: key };
  }
  const here = tune;
  if (here === undefined) throw new Error("no score is open");
  if (question.kind === "file") {
    if (question.form === "sheet") return { bytes: sheetBytes(here, question) };
    const arranged = here.arrange(question.options, question.wishes);
    return { bytes: fileOf(question.form, arranged, completeOptions(question.options), question.name) };
  }
  const seen = { options: withOtherWays(question.options), wishes: question.wishes };
  if (question.kind === "arrange") return draftOf(here, seen);
  return engraved(here.arrange(seen.options, seen.wishes).document, question.shown);
}

function sheetBytes({ document }: TuneAtHand, { options, wishes }: Asked): Uint8Array {
  const { title, pages } = sheetOf(document, completeOptions(options), new Findings(), wishes);
  return new TextEncoder().encode(sheetHtml(title, pages));
}

/** How many other ways a moment shows: more than a report lists, for they are what is chosen from. */
const OTHER_WAYS = 8;

const withOtherWays = (options: GivenOptions): GivenOptions => ({
  ...options,
  alternatives: Math.max(OTHER_WAYS, options.alternatives ?? 0),
});

function draftOf(here: TuneAtHand, { options: given, wishes }: Asked): Draft {
  const options = completeOptions(given);
  const { sheet, arrangement, report } = here.arrange(given, wishes);
  return {
    report,
    trace: handTrace(sheet, arrangement, options),
    performance: performanceOf(sheet.tune, arrangement, options.tempo),
    cost: arrangement.cost,
    quartersPerMinute: quartersPerMinute(sheet.tune, options),
  };
}

function engraved(...[document, shown]: Parameters<typeof engravingCopy>): Engraving {
  const copy = engravingCopy(document, shown);
  return { xml: printXml(copy.document), notes: copy.notes };
}

function findingsIn(error: unknown): readonly Finding[] {
  if (error instanceof ScoreError) return [error.finding];
  if (error instanceof OptionsError || error instanceof WishesError) return error.findings;
  const message = error instanceof Error ? error.message : String(error);
  return [
    {
      rule: "own-mistake",
      severity: "error",
      place: {},
      found: message,
      expected: "a score that is arranged",
      message: `A mistake in the program itself: ${message}. Please report it with the score.`,
    },
  ];
}
