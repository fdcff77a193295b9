import { fileURLToPath } from "node:url";
import type { Express } from "express";
import { afterAll } from "vitest";
import { createApp } from "../../server/app.js";
import { SERVICE_LIMITS, type ServiceLimits } from "../../server/limits.js";
import { type Listening, listen } from "../../server/listen.js";
import { openWorkshop } from "../../server/workshop.js";
import { builtPage } from "../../src/cli/running/built-page.js";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";

/** The page as it is built, where it is. */
const page = await builtPage(fileURLToPath(new URL("../../dist/server/page/", import.meta.url)));

/** Does what the "score" says; see the file. */
export const STUBBORN_WORKER = fileURLToPath(new URL("../work/stubborn-worker.js", import.meta.url));

/** A tune that is arranged in no time. */
export const SHORT_TUNE = leadSheetFromText(
  "title: Two Geese\nkey: 0 major\ntime: 4/4\ntempo: 80\n\n[C] G4/2 E4/4 C5/4 | [G7] B4/2 [C] C5/2 ||\n",
);

export interface TestedService {
  readonly limits?: Partial<ServiceLimits>;
  readonly token?: string;
  readonly workerFile?: string;
  /** What the service called its own mistake is added here. */
  readonly mistakes?: unknown[];
}

/** An app with one worker behind it, closed after the tests of the file. */
export function appInTest({ limits, token, workerFile, mistakes }: TestedService = {}): Express {
  const all = limitsInTest(limits);
  const workshop = openWorkshop(all, workerFile);
  afterAll(() => workshop.close());
  return createApp({
    version: "1.2.3",
    limits: all,
    workshop,
    token,
    page,
    onMistake: (error) => {
      if (mistakes === undefined) throw error;
      mistakes.push(error);
    },
  });
}

/** The same behind sockets of its own, for tests of connections; answers with the port. */
export async function portInTest(tested: TestedService = {}): Promise<number> {
  const app = appInTest(tested);
  const listening: Listening = await listen(app, 0, limitsInTest(tested.limits));
  afterAll(() => listening.close());
  return listening.port;
}

const limitsInTest = (limits: Partial<ServiceLimits> | undefined): ServiceLimits => ({
  ...SERVICE_LIMITS,
  workers: 1,
  lingerMs: 300,
  ...limits,
});
