import { readFileSync } from "node:fs";
import { join } from "node:path";
import { vi } from "vitest";
import type { WatchEvent } from "../../plugin-adapters/watched-folder/watch-event.js";
import { watchFolder } from "../../plugin-adapters/watched-folder/watch-folder.js";
import type { WatchPace, WatchSettings } from "../../plugin-adapters/watched-folder/watch-settings.js";
import { completeOptions } from "../../src/options/option-checking.js";
import type { Refused } from "../../src/work/order.js";
import { type FolderPair, folderPair } from "./folder-pair.js";

/** A score as far as a watch is concerned: its text says which it is, and whether it was written to its end. */
export const score = (text: string): string => `<score-partwise><!-- ${text} --></score-partwise>`;

/** What becomes of it, with the sign by which our guitar scores are known. */
export const guitarScore = (text: string): string =>
  `<score-partwise><identification><miscellaneous><miscellaneous-field name="x-undervoice">` +
  `{"parts":["G"],"lead":"keep","options":{}}</miscellaneous-field></miscellaneous></identification>` +
  `<part id="G"><measure><attributes><clef><sign>TAB</sign></clef></attributes></measure></part>` +
  `<!-- ${text} --></score-partwise>`;

/** An arranger that takes no time, and remembers what it was given. */
export interface ArrangerInTest extends Pick<WatchSettings, "arrange"> {
  /** The text of every score it was given, in turn. */
  readonly runs: readonly string[];
  /** Called at the beginning of every run, which waits for it. */
  whenAsked: (run: number) => Promise<void> | void;
}

export function arrangerInTest(): ArrangerInTest {
  const runs: string[] = [];
  return {
    runs,
    whenAsked: () => {},
    async arrange({ score: bytes }) {
      const xml = new TextDecoder().decode(bytes);
      runs.push(/<!-- (.*) -->/.exec(xml)?.[1] ?? xml);
      await this.whenAsked(runs.length);
      if (!xml.endsWith("</score-partwise>")) return cutOff;
      return { kind: "done", score: new TextEncoder().encode(guitarScore(runs.at(-1) ?? "")), findings: [] };
    },
  };
}

const cutOff: Refused = {
  kind: "refused",
  findings: [
    {
      rule: "not-well-formed",
      severity: "error",
      place: { line: 1, column: 20 },
      found: "the end of the file",
      expected: "more",
      message: "The file is cut off.",
    },
  ],
};

export interface WatchInTest extends FolderPair {
  readonly arranger: ArrangerInTest;
  readonly events: readonly WatchEvent[];
  /** Events about one score, in short: "arranged", "noted". */
  about(input: string): readonly string[];
  /** Waits until this holds. */
  until(isSo: () => boolean): Promise<void>;
  /** Waits until a good many looks have been taken, in which nothing should happen. */
  manyLooks(): Promise<void>;
  /** Text that the guitar score of this name was made from. */
  madeFrom(output: string): string | undefined;
  /** Ends this watch and starts another upon the same folders. */
  again(): Promise<WatchInTest>;
  close(): Promise<void>;
}

const QUICK: WatchPace = {
  stillMs: 100,
  quickLookMs: 10,
  slowLookMs: 50,
  readings: 3,
  readAgainMs: 60,
  troubleMs: 200,
};

/** Ten slow looks at least. */
const MANY_LOOKS_MS = 600;

export async function watchInTest({
  pair = folderPair(),
  pace = {} as Partial<WatchPace>,
  keepsOwnMark = true,
  arranger = arrangerInTest(),
} = {}): Promise<WatchInTest> {
  const events: WatchEvent[] = [];
  const watched = await watchFolder({
    inFolder: pair.inFolder,
    outFolder: pair.outFolder,
    options: completeOptions({}),
    isCompressed: false,
    keepsOwnMark,
    arrange: (order) => arranger.arrange(order),
    pace: { ...QUICK, ...pace },
    onEvent: (event) => void events.push(event),
  });
  return {
    ...pair,
    arranger,
    events,
    about: (input) =>
      events.filter((event) => "input" in event && event.input === input).map(({ kind }) => kind),
    until: (isSo) =>
      vi.waitFor(
        () => {
          if (!isSo()) throw new Error(`it never came to that; there was ${JSON.stringify(events)}`);
        },
        { timeout: 20_000, interval: 10 },
      ),
    manyLooks: () => new Promise((resolve) => setTimeout(resolve, MANY_LOOKS_MS)),
    madeFrom: (output) =>
      /<!-- (.*) -->/.exec(readFileSync(join(pair.outFolder, output), "utf8"))?.[1] ?? undefined,
    async again() {
      await watched.close();
      return watchInTest({ pair, pace, keepsOwnMark });
    },
    close: () => watched.close(),
  };
}
