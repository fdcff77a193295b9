import type { Request, RequestHandler, Response } from "express";
import { checkedWishes, completeOptions, type Finding, OPTIONS, type WishesFile } from "undervoice";
import type { Job } from "../jobs/job.js";
import { Refusal, refusal } from "../refusal.js";
import { JSON_TYPE, MULTIPART_TYPES, MUSICXML, SCORE_TYPES } from "../requests/media-types.js";
import { bodyKind, WISHES } from "../requests/score-request.js";
import type { Resource, ServiceParts } from "./resource.js";

/** The resource at which a job is asked for: a score goes in, the job's answer comes out. */
export const scoreResource = (job: Job): Resource => ({
  path: job.path,
  method: "post",
  summary: job.summary,
  isOpen: false,
  schemas: job.schemas,
  operation: operationOf(job),
  answer: (parts) => answerTo(job, parts),
});

/** Everything that can be refused without the body is refused before it is read. */
const answerTo =
  (job: Job, { limits, readBody, workshop }: ServiceParts): RequestHandler =>
  async (request, response) => {
    const takeApart = bodyKind(request, limits);
    const mediaType = answerType(job, request);
    const body = await readBody(request, response);
    const { score, options, wishes } = takeApart(body);
    refuseUnused(job, options, wishes);
    const gone = whenGone(response);
    const checked = { score, options: completeOptions(options), wishes: wishesIn(wishes) };
    const order = job.order(checked, mediaType);
    const answer = await workshop.answer(order, gone).catch((error: unknown) => {
      if (!gone.aborted) throw error;
    });
    if (answer === undefined) return;
    if (answer.kind === "refused") throw new Refusal(statusFor(answer.findings), answer.findings);
    const warnings = answer.findings.filter(({ severity }) => severity === "warning").length;
    response.set("Undervoice-Warnings", String(warnings)).type(mediaType);
    response.send(Buffer.from(job.body(answer, mediaType)));
  };

/** Aborted when the client hangs up before it has its answer. */
function whenGone(response: Response): AbortSignal {
  const gone = new AbortController();
  response.once("close", () => {
    if (!response.writableFinished) gone.abort();
  });
  return gone.signal;
}

/** An option the job would not look at was meant to do something; one that does not exist is found later. */
function refuseUnused(job: Job, asked: Readonly<Record<string, unknown>>, wishes: unknown): void {
  const known: readonly string[] = job.options;
  const unused = Object.keys(asked).filter((name) => Object.hasOwn(OPTIONS, name) && !known.includes(name));
  if (wishes !== undefined && job.takesWishes !== true) unused.push(WISHES);
  if (unused.length === 0) return;
  throw refusal(400, {
    rule: "option-unused",
    found: unused.join(", "),
    expected: known.join(", "),
    message: `"${job.path}" has no use for ${unused.join(", ")}.`,
  });
}

/** @throws WishesError where they are not as a file of wishes has them */
const wishesIn = (wishes: unknown): WishesFile | undefined =>
  wishes === undefined ? undefined : checkedWishes({ [WISHES]: wishes });

function answerType(job: Job, request: Request): string {
  const types = job.answers.map(({ mediaType }) => mediaType);
  const type = request.accepts(types);
  if (type !== false) return type;
  throw refusal(406, {
    rule: "answer-type",
    found: request.get("Accept") ?? "",
    expected: types.join(", "),
    message: `An answer of this type is not made: ${request.get("Accept")}.`,
  });
}

/** Rules that speak of the size of a score, by which it is refused as too large. */
const SIZE_RULES = new Set(["too-large", "zip-entries", "too-many-elements"]);

const statusFor = (findings: readonly Finding[]): number =>
  SIZE_RULES.has(findings.at(-1)?.rule ?? "") ? 413 : 422;

// ---- the description ----

const binary = (mediaType: string) => ({ schema: { type: "string", contentMediaType: mediaType } });

const operationOf = (job: Job) => ({
  description: job.description,
  parameters: job.options.map((name) => ({ $ref: `#/components/parameters/${name}` })),
  requestBody: {
    required: true,
    description:
      job.takesWishes === true
        ? "The score. Beside it, in a body of several parts, options and wishes as JSON."
        : "The score. Beside it, in a body of several parts, the options as JSON.",
    content: {
      ...Object.fromEntries(SCORE_TYPES.map((type) => [type, binary(type)])),
      ...Object.fromEntries(MULTIPART_TYPES.map((type) => [type, partsFor(job)])),
    },
  },
  responses: {
    200: {
      description: job.answers.map((answer) => answer.description).join(" "),
      headers: {
        "Undervoice-Warnings": {
          description: "How many warnings there are about the score.",
          schema: { type: "integer", minimum: 0 },
        },
      },
      content: Object.fromEntries(job.answers.map(({ mediaType, schema }) => [mediaType, { schema }])),
    },
    400: { $ref: "#/components/responses/400" },
    406: { $ref: "#/components/responses/406" },
    413: { $ref: "#/components/responses/413" },
    415: { $ref: "#/components/responses/415" },
    422: { $ref: "#/components/responses/422" },
    503: { $ref: "#/components/responses/503" },
  },
});

const partsFor = ({ takesWishes = false }: Job) => ({
  schema: {
    type: "object",
    required: ["score"],
    properties: {
      score: { type: "string", contentMediaType: MUSICXML },
      options: { $ref: `#/components/schemas/${takesWishes ? "OptionsAndWishes" : "Options"}` },
    },
  },
  encoding: {
    score: { contentType: SCORE_TYPES.join(", ") },
    options: { contentType: JSON_TYPE },
  },
});
