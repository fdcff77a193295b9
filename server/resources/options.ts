import { OPTIONS_SCHEMA } from "undervoice";
import { readOnly } from "./resource.js";

export const options = readOnly({
  path: "/options",
  summary: "Describe every option of an arrangement",
  description: "JSON Schema (draft 7) of the options.",
  schema: {
    type: "object",
    required: ["$schema", "title", "type", "additionalProperties", "properties"],
    properties: {
      type: { const: "object" },
      properties: {
        type: "object",
        additionalProperties: {
          type: "object",
          required: ["type", "description"],
          properties: { type: { enum: ["string", "integer", "number", "boolean"] } },
        },
      },
    },
  },
  answer: () => (_request, response) => void response.json(OPTIONS_SCHEMA),
});
