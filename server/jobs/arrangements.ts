import { type ArrangeOrder, OPTIONS_FOR, REPORT_SCHEMA } from "undervoice";
import { COMPRESSED_MUSICXML, JSON_TYPE, MUSICXML } from "../requests/media-types.js";
import { type Job, withoutDialect } from "./job.js";

/** The lead sheet with a fingered guitar part beside it. */
export const arrangements: Job<ArrangeOrder> = {
  path: "/arrangements",
  summary: "Arrange a lead sheet for guitar",
  description:
    "Takes a lead sheet and answers with the same score and a fingered guitar part beside it. A JSON part may hold " +
    "a player's wishes besides options; the rest is arranged around them. " +
    "Warnings stand in the report of the JSON answer; the other answers count them in Undervoice-Warnings.",
  options: OPTIONS_FOR.arrange,
  schemas: { Report: withoutDialect(REPORT_SCHEMA) },
  answers: [
    { mediaType: MUSICXML, description: "The guitar score.", schema: { type: "string" } },
    {
      mediaType: COMPRESSED_MUSICXML,
      description: "The guitar score, compressed (.mxl).",
      schema: { type: "string", contentMediaType: COMPRESSED_MUSICXML },
    },
    {
      mediaType: JSON_TYPE,
      description: "The guitar score with the report on it.",
      schema: {
        type: "object",
        additionalProperties: false,
        required: ["score", "report"],
        properties: {
          score: { type: "string", contentMediaType: MUSICXML, description: "MusicXML, as text." },
          report: { $ref: "#/components/schemas/Report" },
        },
      },
    },
  ],
  takesWishes: true,
  order: (request, mediaType) => ({
    kind: mediaType === JSON_TYPE ? "arrange" : "scoreOnly",
    ...request,
    isCompressed: mediaType === COMPRESSED_MUSICXML,
  }),
  body: ({ score, ...rest }) =>
    "report" in rest
      ? JSON.stringify({ score: new TextDecoder().decode(score), report: rest.report })
      : score,
};
