import { FINDING_SCHEMA, OPTIONS, OPTIONS_SCHEMA, WISHES_SCHEMA } from "undervoice";
import { type Schema, withoutDialect } from "../jobs/job.js";
import { PROBLEM_TYPE } from "../problem.js";
import type { Resource } from "./resource.js";

/** The service as OpenAPI 3.1, made from its resources, the table of options and the schema of the report. */
export const openApi = (resources: readonly Resource[], version: string): Schema => ({
  openapi: "3.1.0",
  info: {
    title: "Undervoice",
    version,
    description: "Arranges lead sheets in MusicXML for guitar, on this machine and for this machine only.",
    license: { name: "MIT", identifier: "MIT" },
  },
  servers: [{ url: "/" }],
  paths: Object.fromEntries(resources.map((resource) => [resource.path, pathItem(resource)])),
  components: {
    schemas: {
      ...Object.assign({}, ...resources.map(({ schemas }) => schemas)),
      Options: withoutDialect(OPTIONS_SCHEMA),
      OptionsAndWishes: OPTIONS_AND_WISHES,
      Finding: FINDING_SCHEMA,
      Problem: PROBLEM_SCHEMA,
    },
    parameters: Object.fromEntries(
      Object.entries(OPTIONS_SCHEMA.properties).map(([name, schema]) => [name, parameter(name, schema)]),
    ),
    responses: Object.fromEntries(
      Object.entries(REFUSALS).map(([status, description]) => [status, problem(status, description)]),
    ),
    securitySchemes: { token: { type: "http", scheme: "bearer" } },
  },
});

/** Options with the one field of a file of wishes among them. */
const OPTIONS_AND_WISHES = {
  ...withoutDialect(OPTIONS_SCHEMA),
  title: "Options of an arrangement, and wishes for it",
  properties: { ...OPTIONS_SCHEMA.properties, ...WISHES_SCHEMA.properties },
};

/** What each status other than 200 means. */
const REFUSALS: Readonly<Record<string, string>> = {
  400: "An option or a wish is unknown, out of its range or contradicts another, or the parts cannot be told apart.",
  401: "The token is missing or wrong.",
  403: "The request names a foreign host, or a foreign web page made it.",
  405: "The resource takes another method.",
  406: "The answer is not made in a type that the client accepts.",
  413: "The score is larger than what is read.",
  415: "The content type is no score's.",
  422: "The score cannot be read or worked on.",
  500: "A mistake in the service itself.",
  503: "Too much to do at the moment, or work that takes too long.",
};

/** Refusals every resource can answer with. */
const COMMON = ["403", "405"];

const pathItem = ({ method, summary, isOpen, operation }: Resource) => {
  const common = [...COMMON, ...(isOpen ? [] : ["401"]), ...(method === "post" ? ["500"] : [])];
  const responses = Object.fromEntries(
    common.map((status) => [status, { $ref: `#/components/responses/${status}` }]),
  );
  return {
    [method]: {
      summary,
      ...operation,
      // A service that was started without a token asks for none.
      security: isOpen ? [{}] : [{ token: [] }, {}],
      responses: { ...(operation.responses as Schema), ...responses },
    },
  };
};

const parameter = (name: string, schema: Schema) => ({
  name,
  in: "query",
  required: false,
  description: Object.hasOwn(OPTIONS, name) ? OPTIONS[name as keyof typeof OPTIONS].description : "",
  schema,
});

const PROBLEM_SCHEMA = {
  type: "object",
  description: "Problem details (RFC 9457).",
  additionalProperties: false,
  required: ["type", "title", "status", "detail", "findings"],
  properties: {
    type: { const: "about:blank" },
    title: { type: "string" },
    status: { type: "integer", minimum: 400, maximum: 599 },
    detail: { type: "string" },
    findings: { type: "array", minItems: 1, items: { $ref: "#/components/schemas/Finding" } },
  },
};

/** Headers a refusal carries besides. */
const HEADERS: Readonly<Record<string, Schema>> = {
  401: { "WWW-Authenticate": { schema: { type: "string" } } },
  405: { Allow: { schema: { type: "string" } } },
  503: { "Retry-After": { description: "Seconds.", schema: { type: "integer", minimum: 1 } } },
};

const problem = (status: string, description: string) => ({
  description,
  ...(HEADERS[status] === undefined ? {} : { headers: HEADERS[status] }),
  content: { [PROBLEM_TYPE]: { schema: { $ref: "#/components/schemas/Problem" } } },
});
