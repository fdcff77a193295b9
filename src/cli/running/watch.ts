import type { WatchWish } from "#built/plugin-adapters/watched-folder/start-watching.js";
import { completeOptions, OptionsError } from "../../options/option-checking.js";
import type { Outcome } from "../exit-codes.js";
import { type ParsedLine, UsageError } from "../flags.js";
import { FileTrouble, type Outside } from "../outside.js";
import { toldToEnd } from "../told-to-end.js";
import { refusalText } from "./refusal-text.js";

/** Longest wait that makes sense for a file that is still being written, in milliseconds. */
const LONGEST_STILL_MS = 60_000;

export async function watchUntilTold(
  { flags, options, words: folders }: ParsedLine,
  outside: Outside,
): Promise<Outcome> {
  const [inFolder, outFolder = inFolder] = folders;
  if (inFolder === undefined || outFolder === undefined || folders.length > 2)
    throw new UsageError(
      `watch takes a folder and at most one for the output, and there are ${folders.length}`,
    );
  try {
    return await watchPair(
      {
        inFolder,
        outFolder,
        options: completeOptions(options),
        isCompressed: flags.compressed === true,
        keepsOwnMark: true,
        stillMs: millisecondsIn(flags.still),
      },
      outside,
    );
  } catch (error) {
    if (!(error instanceof OptionsError)) throw error;
    outside.toStandardError(refusalText(error.findings));
    return "wronglyAsked";
  }
}

/**
 * Watches a folder pair until the program is told to end.
 *
 * @throws FileTrouble where a folder is not there or not permitted
 */
export async function watchPair(wish: Omit<WatchWish, "say">, outside: Outside): Promise<Outcome> {
  const { startWatching } = await import("#built/plugin-adapters/watched-folder/start-watching.js");
  const say = (line: string) => outside.toStandardOutput(`${line}\n`);
  const watched = await startWatching({ ...wish, say }).catch((error: NodeJS.ErrnoException) => {
    if (error.code === undefined) throw error;
    const doing = error.syscall === "mkdir" ? "written" : "watched";
    throw new FileTrouble(error.path ?? wish.inFolder, doing, error);
  });
  say(`Watching ${wish.inFolder} until interrupted; guitar scores go to ${wish.outFolder}.`);
  await toldToEnd();
  await watched.close();
  return "done";
}

function millisecondsIn(text: unknown): number | undefined {
  if (text === undefined) return undefined;
  const number = Number(text);
  if (Number.isInteger(number) && number >= 0 && number <= LONGEST_STILL_MS && text !== "") return number;
  throw new UsageError(`--still takes milliseconds from 0 to ${LONGEST_STILL_MS}, not "${text}"`);
}
