import { Validator } from "@seriousme/openapi-schema-validator";
import { Ajv } from "ajv";
import request, { type Response } from "supertest";
import { beforeAll, describe, expect, test } from "vitest";
import { appInTest, SHORT_TUNE, STUBBORN_WORKER } from "./service-in-test.js";

/** The description as the service gives it. */
interface Description {
  readonly paths: Record<string, Record<string, { readonly responses: Record<string, Described> }>>;
  readonly components: {
    readonly schemas: Record<string, object>;
    readonly responses: Record<string, Described>;
  };
}

interface Described {
  readonly $ref?: string;
  readonly headers?: Record<string, unknown>;
  readonly content: Record<string, { readonly schema: object }>;
}

const apps = {
  usual: appInTest(),
  token: appInTest({ token: "three-blind-mice" }),
  failing: appInTest({ workerFile: STUBBORN_WORKER, mistakes: [] }),
  full: appInTest({ workerFile: STUBBORN_WORKER, limits: { waiting: 0 } }),
  small: appInTest({ limits: { plainBytes: 1_000 } }),
};

/** A request that gets an answer of one status. */
interface Trial {
  readonly app?: keyof typeof apps;
  readonly method?: "get" | "post" | "delete";
  readonly query?: string;
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: string;
}

/** What is sent where another score is wanted than a lead sheet. */
const SCORES: Readonly<Record<string, () => Promise<string>>> = {
  "/checks": async () => (await asked("/arrangements", "post", {})).text,
};

const json = { Accept: "application/json" };

/** How each status is brought about, at the resources that take a score and at those that are read. */
const TRIALS: Readonly<Record<"post" | "get", Readonly<Record<string, readonly Trial[]>>>> = {
  post: {
    200: [{}, { headers: json }],
    400: [{ query: "?no-such-option=1" }],
    401: [{ app: "token" }],
    403: [{ headers: { Origin: "http://tunes.example" } }],
    405: [{ method: "delete" }],
    406: [{ headers: { Accept: "image/png" } }],
    413: [{ app: "small" }],
    415: [{ headers: { "Content-Type": "text/plain" } }],
    422: [{ body: "<score-partwise/>" }],
    500: [{ app: "failing", body: "fail" }],
    503: [{ app: "full" }],
  },
  get: {
    200: [{}],
    401: [{ app: "token" }],
    403: [{ headers: { "Sec-Fetch-Site": "cross-site" } }],
    405: [{ method: "post" }],
  },
};

const asked = async (path: string, usual: "get" | "post", trial: Trial): Promise<Response> => {
  const { app = "usual", method = usual, query = "", headers = {}, body } = trial;
  const sent = request(apps[app])[method](`${path}${query}`);
  if (method !== "post" || usual !== "post") return sent.set(headers);
  const type = "application/vnd.recordare.musicxml+xml";
  return sent.set({ "Content-Type": type, ...headers }).send(body ?? (await SCORES[path]?.()) ?? SHORT_TUNE);
};

let description: Description;
beforeAll(async () => {
  description = (await request(apps.usual).get("/openapi.json").expect(200)).body;
});

test("the description is OpenAPI 3.1", async () => {
  const validator = new Validator();
  const { valid, errors } = await validator.validate({ ...description });
  expect(errors).toBeUndefined();
  expect(valid).toBe(true);
  expect(validator.version).toBe("3.1");
});

test("every option of the table is described as a parameter", async () => {
  const { body } = await request(apps.usual).get("/options");
  const { parameters, schemas } = (description as unknown as { components: Record<string, object> })
    .components;
  expect(Object.keys(parameters ?? {})).toEqual(Object.keys(body.properties));
  expect(schemas).toHaveProperty("Options.properties", body.properties);
});

describe("every answer is as described", () => {
  const hits = new Set<string>();
  const described = (): readonly string[] =>
    Object.entries(description.paths).flatMap(([path, methods]) =>
      Object.entries(methods).flatMap(([method, { responses }]) =>
        Object.keys(responses).map((status) => `${method} ${path} ${status}`),
      ),
    );

  test("at every resource and in every status, and in no other", async () => {
    const ajv = new Ajv({ strict: false });
    ajv.addSchema({ $id: "service", ...description }, "service");
    for (const [path, methods] of Object.entries(description.paths)) {
      for (const [method, { responses }] of Object.entries(methods)) {
        const usual = method as "get" | "post";
        for (const [status, trials] of Object.entries(TRIALS[usual])) {
          if (responses[status] === undefined) continue;
          for (const trial of trials) {
            const answer = await asked(path, usual, trial);
            const name = `${method} ${path} ${status}`;
            expect(answer.status, `${name}: ${answer.text}`).toBe(Number(status));
            expect(mismatches(answer, answerFor(responses[status]), ajv), name).toEqual([]);
            hits.add(name);
          }
        }
      }
    }
  });

  test("and each of them was seen", () => {
    // What is described and was never answered is a promise nobody has seen kept.
    expect([...hits].toSorted()).toEqual(described().toSorted());
  });
});

const answerFor = (answer: Described): Described => {
  const status = answer.$ref?.replace("#/components/responses/", "");
  return status === undefined ? answer : (description.components.responses[status] as Described);
};

/** What of an answer is not as described. */
function mismatches(answer: Response, { content, headers = {} }: Described, ajv: Ajv): readonly string[] {
  const missing = Object.keys(headers).filter((name) => answer.get(name) === undefined);
  const described = content[answer.type];
  if (described === undefined) return [...missing, `the type ${answer.type} is not described`];
  if (!answer.type.endsWith("json")) return missing;
  const fits = ajv.compile(rooted(described.schema) as object);
  fits(answer.body);
  return [
    ...missing,
    ...(fits.errors ?? []).map(({ instancePath, message }) => `${instancePath} ${message}`),
  ];
}

/** The schema with its references led to the whole description. */
const rooted = (schema: object): unknown =>
  JSON.parse(JSON.stringify(schema).replaceAll('"#/components/', '"service#/components/'));
