import { rm } from "node:fs/promises";
import { join } from "node:path";
import type { Refused } from "undervoice";
import { hasGuitarSuffix, noteNameFor, outputNameFor, sameFileKey } from "#built/files/file-names.js";
import { putFile, standsAt } from "#built/files/put-file.js";
import { EDITS_OF_BESIDE } from "#built/work/edited-beside.js";
import { isOwnScore } from "./own-scores.js";
import { readPlainFile, readStillFile } from "./read-still-file.js";
import {
  barredFromReading,
  largerThanRead,
  linesAbout,
  noteText,
  notOurOutput,
  sharedOutput,
} from "./score-note.js";
import type { WatchPace, WatchSettings } from "./watch-settings.js";
import { hashOf, type WrittenScores } from "./written-scores.js";

/** What a round needs besides its score. */
export interface RoundParts {
  readonly settings: WatchSettings;
  readonly pace: WatchPace;
  readonly written: WrittenScores;
  /** Which input each guitar score belongs to, by the key of its name. */
  readonly claims: Map<string, string>;
  /** How often a score in its present state looked cut off, by name. */
  readonly cutOff: Map<string, { readonly signature: string; readonly readings: number }>;
}

/** What is to be done about a score after its round. */
export type RoundEnd =
  | { readonly kind: "settled" }
  /** It waits for another score to go away. */
  | { readonly kind: "barred" }
  | { readonly kind: "again"; readonly afterMs: number };

/** Rules a score breaks that was not written to its end. */
const CUT_OFF_RULES = new Set([
  "not-well-formed",
  "file-empty",
  "zip-damaged",
  "container-broken",
  "encoding-invalid",
]);

/**
 * One score's way from its folder to the other: read, arranged, written, or a note in its place. There is one
 * round for a score at a time.
 *
 * @throws the system's error where a folder or file cannot be used
 */
export async function scoreRound(name: string, signature: string, parts: RoundParts): Promise<RoundEnd> {
  const { settings, pace } = parts;
  const found = await readStillFile(join(settings.inFolder, name), signature);
  if (found.kind === "changed") return { kind: "again", afterMs: pace.stillMs };
  if (found.kind === "barred") return noted(name, [barredFromReading(found.error)], parts);
  if (found.kind === "tooLarge") return noted(name, [largerThanRead(found.size)], parts);
  const { bytes } = found;

  const isGuitarScore = hasGuitarSuffix(name) && (!settings.keepsOwnMark || isOwnScore(bytes));
  if (isGuitarScore && settings.inFolder === settings.outFolder) return { kind: "settled" };
  if (isGuitarScore && !settings.keepsOwnMark) return leftAsGuitarScore(name, settings);

  const output = outputNameFor(name, { isCompressed: settings.isCompressed, isGuitarScore });
  const owner = claimedBy(name, output, parts);
  if (owner !== name) {
    await noted(name, [sharedOutput(name, owner, output)], parts);
    return { kind: "barred" };
  }

  const inputHash = hashOf(bytes);
  const wishHash = hashOf(JSON.stringify([settings.options, settings.isCompressed]));
  const there = await thereNow(output, parts);
  const last = parts.written.of(output);
  const isAsWritten = last !== undefined && there.hash === last.outputHash;
  if (isAsWritten && last.inputHash === inputHash && last.wishHash === wishHash) {
    await withoutNote(name, settings);
    settings.onEvent({ kind: "unchanged", input: name, output });
    return { kind: "settled" };
  }

  // A lead sheet that was exported again: what a player has edited in its guitar score meanwhile is kept.
  const isAgain = last !== undefined && last.inputHash !== inputHash;
  const result = await settings.arrange({
    kind: "scoreOnly",
    score: bytes,
    options: settings.options,
    isCompressed: settings.isCompressed,
    ...(isAgain && !isAsWritten ? { beside: there.bytes } : {}),
  });
  if (result.kind === "refused") return refused(name, signature, result, parts);

  const outputHash = hashOf(result.score);
  // Looked at again, since the arranging took its time.
  const now = await thereNow(output, parts);
  const isEditKept = result.findings.some(({ rule }) => rule === EDITS_OF_BESIDE);
  const known = [outputHash, last?.outputHash, last?.beforeHash, ...(isEditKept ? [there.hash] : [])];
  const isOurs = now.stands === "nothing" || (now.hash !== undefined && known.includes(now.hash));
  if (!isOurs) return noted(name, [notOurOutput(output)], parts);
  // The record goes first: whoever is ended between the two knows either score for its own afterwards.
  const before = now.hash === undefined || now.hash === outputHash ? {} : { beforeHash: now.hash };
  await parts.written.add(output, { input: name, inputHash, wishHash, outputHash, ...before });
  if (now.hash !== outputHash) await putFile(join(settings.outFolder, output), result.score);
  await withoutNote(name, settings);
  settings.onEvent({ kind: "arranged", input: name, output, findings: result.findings });
  return { kind: "settled" };
}

function leftAsGuitarScore(name: string, { onEvent }: WatchSettings): RoundEnd {
  const reason = "its name is a guitar score's, and the notation program keeps no other sign of one";
  onEvent({ kind: "leftAlone", input: name, reason });
  return { kind: "settled" };
}

/** The input that a guitar score of this name belongs to: this one, unless another came first. */
function claimedBy(name: string, output: string, { claims }: RoundParts): string {
  const key = sameFileKey(output);
  const owner = claims.get(key) ?? name;
  claims.set(key, owner);
  return owner;
}

async function thereNow(output: string, { settings }: RoundParts) {
  const path = join(settings.outFolder, output);
  const stands = await standsAt(path);
  const bytes = stands === "file" ? await readPlainFile(path) : undefined;
  return { stands, bytes, hash: bytes === undefined ? undefined : hashOf(bytes) };
}

async function refused(
  name: string,
  signature: string,
  { findings }: Refused,
  parts: RoundParts,
): Promise<RoundEnd> {
  const { cutOff, pace } = parts;
  if (CUT_OFF_RULES.has(findings.at(-1)?.rule ?? "")) {
    const before = cutOff.get(name);
    const readings = before?.signature === signature ? before.readings + 1 : 1;
    cutOff.set(name, { signature, readings });
    if (readings < pace.readings) return { kind: "again", afterMs: pace.readAgainMs };
  }
  return noted(name, linesAbout(name, findings), parts);
}

async function noted(
  name: string,
  lines: readonly string[],
  { settings }: Pick<RoundParts, "settings">,
): Promise<RoundEnd> {
  const note = noteNameFor(name);
  await putFile(join(settings.outFolder, note), new TextEncoder().encode(noteText(name, lines)));
  settings.onEvent({ kind: "noted", input: name, note, lines });
  return { kind: "settled" };
}

/** Takes away the note on a score that is arranged by now, or gone. */
export const withoutNote = (name: string, { outFolder }: WatchSettings): Promise<void> =>
  rm(join(outFolder, noteNameFor(name)), { force: true });
