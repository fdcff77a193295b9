import { readOnly } from "./resource.js";

export const overview = readOnly({
  path: "/",
  summary: "List what there is",
  description: "Every resource with its method and one line on it.",
  schema: {
    type: "object",
    additionalProperties: false,
    required: ["name", "version", "resources"],
    properties: {
      name: { const: "undervoice" },
      version: { type: "string" },
      resources: {
        type: "array",
        items: {
          type: "object",
          additionalProperties: false,
          required: ["method", "path", "summary"],
          properties: {
            method: { enum: ["GET", "POST"] },
            path: { type: "string" },
            summary: { type: "string" },
          },
        },
      },
    },
  },
  answer:
    ({ version, resources: all }) =>
    (_request, response) => {
      const resources = all.map(({ method, path, summary }) => ({
        method: method.toUpperCase(),
        path,
        summary,
      }));
      response.json({ name: "undervoice", version, resources });
    },
});
