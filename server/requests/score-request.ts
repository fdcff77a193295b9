import { MIMEType } from "node:util";
import { type MultipartPart, parseMultipart } from "@remix-run/multipart-parser";
import type { Request } from "express";
import type { ServiceLimits } from "../limits.js";
import { type Refusal, refusal } from "../refusal.js";
import { JSON_TYPE, MULTIPART_TYPES, SCORE_TYPES } from "./media-types.js";
import { queryOptions } from "./query-options.js";

/** A score and what is asked for it, unchecked yet. Names of files are not read at all. */
export interface ScoreRequest {
  readonly score: Uint8Array;
  readonly options: Readonly<Record<string, unknown>>;
  /** As in a file of wishes; undefined where there are none. */
  readonly wishes?: unknown;
}

/** The field of the JSON part in which wishes stand, as in a file of them; the others are options. */
export const WISHES = "wishes";

/** Takes the body of a request apart; see `bodyKind`. */
export type TakeApart = (body: Uint8Array) => ScoreRequest;

/**
 * How a body of this content type is read. To be asked before the body is.
 *
 * @throws Refusal 415 where the content type is no score's
 */
export function bodyKind(request: Request, limits: ServiceLimits): TakeApart {
  const asked = queryOptions(request.query);
  const type = mediaType(request.get("Content-Type"));
  if (type !== undefined && SCORE_TYPES.includes(type.essence)) return (score) => ({ score, options: asked });
  const boundary = type?.params.get("boundary");
  if (type === undefined || !MULTIPART_TYPES.includes(type.essence) || !boundary)
    throw contentType(type?.toString());
  return (body) => {
    const { score, asked: besides } = partsOf(body, boundary, limits);
    const { [WISHES]: wishes, ...options } = besides;
    return { score, options: joined(asked, options), wishes };
  };
}

function mediaType(text: string | undefined): MIMEType | undefined {
  try {
    return text === undefined ? undefined : new MIMEType(text);
  } catch {
    return undefined;
  }
}

/** The part that is JSON holds options and wishes, the other one is the score. */
function partsOf(body: Uint8Array, boundary: string, limits: ServiceLimits) {
  const parts = partList(body, boundary, limits);
  const isOptions = (part: MultipartPart) => mediaType(part.mediaType)?.essence === JSON_TYPE;
  const [options, ...moreOptions] = parts.filter(isOptions);
  const [score, ...moreScores] = parts.filter((part) => !isOptions(part));
  if (score === undefined || moreScores.length + moreOptions.length > 0)
    throw unreadableParts(
      `${1 + moreScores.length} parts that are no JSON and ${1 + moreOptions.length} that are`,
    );
  return { score: score.bytes, asked: options === undefined ? {} : jsonOptions(options, limits) };
}

function partList(body: Uint8Array, boundary: string, limits: ServiceLimits): readonly MultipartPart[] {
  try {
    return [...parseMultipart(body, { boundary, maxParts: 2, maxFileSize: limits.plainBytes })];
  } catch (error) {
    throw unreadableParts(error instanceof Error ? error.message : String(error));
  }
}

function jsonOptions(part: MultipartPart, limits: ServiceLimits): Readonly<Record<string, unknown>> {
  if (part.size > limits.optionsBytes)
    throw unreadableParts(`${part.size} bytes of options, more than ${limits.optionsBytes}`);
  const value = parsedJson(part.text);
  if (typeof value !== "object" || value === null || Array.isArray(value))
    throw unreadableParts("options that are no JSON object");
  return value as Readonly<Record<string, unknown>>;
}

function parsedJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    throw unreadableParts("options that are no JSON");
  }
}

/** @throws Refusal 400 where an option is given in both places */
function joined(
  query: Readonly<Record<string, unknown>>,
  part: Readonly<Record<string, unknown>>,
): Readonly<Record<string, unknown>> {
  const twice = Object.keys(query).filter((name) => Object.hasOwn(part, name));
  if (twice.length > 0) throw givenTwice(twice);
  return { ...query, ...part };
}

const contentType = (found: string | undefined): Refusal =>
  refusal(
    415,
    {
      rule: "content-type",
      found: found ?? "no content type that can be read",
      expected: [...SCORE_TYPES, ...MULTIPART_TYPES].join(", "),
      message: `A body of this content type is not read: ${found ?? "none is given"}.`,
      hint: "Send the bytes of the score as application/octet-stream.",
    },
    { Accept: [...SCORE_TYPES, ...MULTIPART_TYPES].join(", ") },
  );

const unreadableParts = (found: string): Refusal =>
  refusal(400, {
    rule: "parts-unreadable",
    found,
    expected:
      "one part with the score and at most one, of the type application/json, with options and wishes",
    message: `The parts of the body cannot be read: ${found}.`,
  });

const givenTwice = (names: readonly string[]): Refusal =>
  refusal(400, {
    rule: "option-twice",
    found: names.join(", "),
    expected: "each option once, in the query or in the JSON part",
    message: `These options stand in the query and in the JSON part: ${names.join(", ")}.`,
  });
