import { readOnly } from "./resource.js";

const count = { type: "integer", minimum: 0 };

/** Answers from the listening process, so quickly even while every worker works. */
export const health = readOnly({
  path: "/health",
  summary: "Say whether the service runs and how much it has to do",
  description: "It runs.",
  isOpen: true,
  schema: {
    type: "object",
    additionalProperties: false,
    required: ["status", "version", "working", "waiting"],
    properties: {
      status: { const: "ok" },
      version: { type: "string" },
      working: { ...count, description: "Scores that are worked on." },
      waiting: { ...count, description: "Scores that wait for a worker." },
    },
  },
  answer:
    ({ version, workshop }) =>
    (_request, response) => {
      const { working, waiting } = workshop;
      response.json({ status: "ok", version, working, waiting });
    },
});
