import type { Finding } from "undervoice";
import type { CoreAnswers, CoreQuestion, CoreReply, CoreRequest, KeyFound } from "./core-messages.js";

/** The score or what was asked of it is refused; the findings are those of the command line. */
export class Refused extends Error {
  readonly findings: readonly Finding[];

  constructor(findings: readonly Finding[]) {
    super(findings.map(({ message }) => message).join(" "));
    this.name = "Refused";
    this.findings = findings;
  }
}

/** Work was stopped before it was done. */
export class Stopped extends Error {}

type AnswerTo<Question extends CoreQuestion> = CoreAnswers[Question["kind"]];

/** The worker with the score in it, as the page talks to it. A question is answered after those before it. */
export interface CoreThread {
  ask<Question extends CoreQuestion>(
    question: Question,
    heard?: (part: KeyFound) => void,
  ): Promise<AnswerTo<Question>>;
  /** Ends what is under way at once; the score has to be opened again. */
  stop(): void;
  /** Ends the worker for good. */
  end(): void;
}

interface Waiting {
  readonly heard: ((part: KeyFound) => void) | undefined;
  resolve(answer: never): void;
  reject(error: unknown): void;
}

export function startCoreThread(): CoreThread {
  let worker = started();
  let count = 0;
  const waiting = new Map<number, Waiting>();

  function started(): Worker {
    const fresh = new Worker("core-worker.js", { type: "module" });
    fresh.addEventListener("message", ({ data }: MessageEvent<CoreReply>) => {
      const asked = waiting.get(data.id);
      if (data.kind === "part") {
        asked?.heard?.(data.part);
        return;
      }
      waiting.delete(data.id);
      if (data.kind === "answer") asked?.resolve(data.answer as never);
      else asked?.reject(new Refused(data.findings));
    });
    return fresh;
  }

  return {
    ask(question, heard) {
      count += 1;
      const request: CoreRequest = { id: count, question };
      return new Promise((resolve, reject) => {
        waiting.set(request.id, { heard, resolve, reject });
        worker.postMessage(request);
      });
    },
    stop() {
      worker.terminate();
      for (const { reject } of waiting.values()) reject(new Stopped("stopped"));
      waiting.clear();
      worker = started();
    },
    end() {
      worker.terminate();
    },
  };
}
