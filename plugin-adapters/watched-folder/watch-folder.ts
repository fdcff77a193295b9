import { type FSWatcher, watch } from "node:fs";
import { readdir, realpath } from "node:fs/promises";
import { sameFileKey } from "#built/files/file-names.js";
import { makeFolder, sweepLeftovers } from "#built/files/put-file.js";
import { troubleInWords } from "#built/files/trouble-in-words.js";
import { type FolderLook, lookInto } from "./folder-look.js";
import { type RoundEnd, type RoundParts, scoreRound, withoutNote } from "./score-round.js";
import { StillFiles } from "./still-files.js";
import type { WatchEvent } from "./watch-event.js";
import { USUAL_PACE, type WatchSettings } from "./watch-settings.js";
import { WrittenScores } from "./written-scores.js";

export interface WatchedFolder {
  /** Takes up no more scores; answers once what was begun is done. */
  close(): Promise<void>;
}

/** A score's state that was dealt with, or that is to be dealt with later. */
interface Dealt {
  readonly signature: string;
  readonly end: RoundEnd;
  readonly at: number;
}

/** By this the trouble with the folder itself is known to have been said. */
const FOLDER_TROUBLE = "folder";
/** Leftovers of a program that was ended are too young to be told from files in writing when it starts anew. */
const SWEEP_EACH_MS = 120_000;
const LINK_LEFT_ALONE = "it is a link or no plain file";

/**
 * Watches a folder and arranges every score that is put into it. What the system tells of changes only says
 * when to look; what is done follows from looks at the whole folder, so that a change told twice is dealt with
 * once, and one that was never told is dealt with all the same.
 *
 * @throws the system's error where a folder is not there at the start or not permitted
 */
export async function watchFolder(asked: WatchSettings): Promise<WatchedFolder> {
  const inFolder = await realpath(asked.inFolder);
  const there = await readdir(inFolder);
  // Only now: the two may be one, and a name mistyped is no folder to be made.
  await makeFolder(asked.outFolder);
  const settings = { ...asked, inFolder, outFolder: await realpath(asked.outFolder) };
  const pace = { ...USUAL_PACE, ...asked.pace };
  await sweepLeftovers(settings.outFolder);
  const written = await WrittenScores.in(settings.outFolder);
  const parts: RoundParts = { settings, pace, written, claims: claimsOf(written, there), cutOff: new Map() };
  const still = new StillFiles(pace.stillMs);
  const dealt = new Map<string, Dealt>();
  const running = new Map<string, Promise<void>>();
  /** When a score that was dealt with was first missing. */
  const missing = new Map<string, number>();
  const said = new Set<string>();
  let sweptAt = performance.now();
  let isOpen = true;
  let wake = () => {};

  const alarm = alarmAt(settings.inFolder, () => wake());
  const looking = lookOnAndOn();
  return {
    async close() {
      isOpen = false;
      wake();
      await looking;
      alarm.close();
      await Promise.all(running.values());
    },
  };

  async function lookOnAndOn(): Promise<void> {
    while (isOpen) {
      const isQuiet = await lookOnce();
      if (!isOpen) return;
      await new Promise<void>((resolve) => {
        const timer = setTimeout(resolve, isQuiet ? pace.slowLookMs : pace.quickLookMs);
        wake = () => {
          clearTimeout(timer);
          // Not at once: a save is several events, and there is nothing to see before it is still.
          setTimeout(resolve, isOpen ? pace.quickLookMs : 0);
        };
      });
    }
  }

  /** One look, and rounds for what is still and not dealt with. Quiet means that nothing is left to do. */
  async function lookOnce(): Promise<boolean> {
    const look = await lookInto(settings.inFolder).catch(cannotLook);
    if (look === undefined) return true;
    said.delete(FOLDER_TROUBLE);
    alarm.renew();
    const now = performance.now();
    if (now - sweptAt > SWEEP_EACH_MS) {
      sweptAt = now;
      await sweepLeftovers(settings.outFolder);
    }
    for (const name of look.leftAlone)
      sayOnce(`link ${name}`, { kind: "leftAlone", input: name, reason: LINK_LEFT_ALONE });
    await forgetGone(look, now);
    for (const [name, signature] of still.after(look.signatures, now))
      if (!running.has(name) && !isDealtWith(name, signature, now)) begin(name, signature);
    return (
      missing.size === 0 &&
      [...look.signatures].every(([name, signature]) =>
        isDealtWith(name, signature, Number.POSITIVE_INFINITY),
      )
    );
  }

  /** The folder may come back, as another one under its name. */
  function cannotLook(error: unknown): undefined {
    alarm.close();
    const text = `${settings.inFolder} cannot be looked at: ${troubleInWords(error)}; it is tried again`;
    sayOnce(FOLDER_TROUBLE, { kind: "trouble", text });
  }

  function isDealtWith(name: string, signature: string, now: number): boolean {
    const known = dealt.get(name);
    if (known === undefined || known.signature !== signature) return false;
    return known.end.kind !== "again" || now < known.at + known.end.afterMs;
  }

  function begin(name: string, signature: string): void {
    const round = scoreRound(name, signature, parts)
      .catch((error: unknown) => afterTrouble(name, error))
      .then((end) => {
        dealt.set(name, { signature, end, at: performance.now() });
        running.delete(name);
      });
    running.set(name, round);
  }

  function afterTrouble(name: string, error: unknown): RoundEnd {
    const { code } = error as NodeJS.ErrnoException;
    const text =
      code === undefined
        ? `${name}: a mistake in the program itself; please report it with the score: ${troubleInWords(error)}`
        : `${name}: its guitar score cannot be written: ${troubleInWords(error)}; it is tried again`;
    sayOnce(text, { kind: "trouble", text });
    return code === undefined ? { kind: "settled" } : { kind: "again", afterMs: pace.troubleMs };
  }

  /** A score that is gone keeps its guitar score, but gives up its note and its claim to a name. One that
   * is back in a moment was only saved. */
  async function forgetGone({ signatures }: FolderLook, now: number): Promise<void> {
    for (const name of missing.keys()) if (signatures.has(name)) missing.delete(name);
    for (const name of new Set([...dealt.keys(), ...parts.claims.values()])) {
      if (signatures.has(name) || running.has(name)) continue;
      if (!missing.has(name)) missing.set(name, now);
      if (now - (missing.get(name) ?? now) < pace.stillMs) continue;
      missing.delete(name);
      dealt.delete(name);
      await withoutNote(name, settings).catch(() => undefined);
      const claimed = [...parts.claims].filter(([, owner]) => owner === name);
      for (const [key] of claimed) parts.claims.delete(key);
      if (claimed.length === 0) continue;
      for (const [other, { end }] of dealt) if (end.kind === "barred") dealt.delete(other);
    }
  }

  function sayOnce(key: string, event: WatchEvent): void {
    if (said.has(key)) return;
    said.add(key);
    settings.onEvent(event);
  }
}

/** Guitar scores of an earlier time belong to the inputs they were made from, as far as those are there. */
const claimsOf = (written: WrittenScores, there: readonly string[]): Map<string, string> =>
  new Map(
    [...written.all].flatMap(([output, { input }]) =>
      there.includes(input) ? [[sameFileKey(output), input]] : [],
    ),
  );

/**
 * Calls when the system tells of a change in the folder. A folder that was moved away or that the system cannot
 * watch tells of none; the slow looks do then, and `renew` tries to watch again.
 */
function alarmAt(folder: string, onChange: () => void) {
  let watcher: FSWatcher | undefined;
  const close = () => {
    watcher?.close();
    watcher = undefined;
  };
  const renew = () => {
    if (watcher !== undefined) return;
    try {
      watcher = watch(folder, { persistent: false }, onChange).on("error", close);
    } catch {
      close();
    }
  };
  renew();
  return { renew, close };
}
