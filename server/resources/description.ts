import { openApi } from "./openapi.js";
import { readOnly } from "./resource.js";

export const description = readOnly({
  path: "/openapi.json",
  summary: "Describe the service as OpenAPI 3.1",
  description: "The description.",
  schema: {
    type: "object",
    required: ["openapi", "info", "paths"],
    properties: { openapi: { type: "string", pattern: "^3\\.1\\." } },
  },
  answer:
    ({ version, resources }) =>
    (_request, response) =>
      void response.json(openApi(resources, version)),
});
