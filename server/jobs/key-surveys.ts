import { KEYS_SCHEMA, type KeysOrder, OPTIONS_FOR } from "undervoice";
import { JSON_TYPE } from "../requests/media-types.js";
import { type Job, withoutDialect } from "./job.js";

/** What a lead sheet would be like to play in each of the twelve keys. */
export const keySurveys: Job<KeysOrder> = {
  path: "/key-surveys",
  summary: "Compare the keys a lead sheet could be played in",
  description:
    "Takes a lead sheet and answers with all twelve keys, the easiest for the hand first: the one that an " +
    "arrangement with the key best takes.",
  options: OPTIONS_FOR.keys,
  schemas: { KeySurvey: withoutDialect(KEYS_SCHEMA) },
  answers: [
    {
      mediaType: JSON_TYPE,
      description: "The keys, the easiest first.",
      schema: { $ref: "#/components/schemas/KeySurvey" },
    },
  ],
  order: ({ score, options }) => ({ kind: "keys", score, options }),
  body: ({ report }) => JSON.stringify(report),
};
