import { OPTIONS, OPTIONS_SCHEMA } from "undervoice";
import { DROPS } from "./drops.js";

const { staves: _set, ...settable } = OPTIONS_SCHEMA.properties;

/** Fields that every manifest may have. */
const COMMON = {
  $schema: { type: "string", description: "Where an editor finds this schema." },
  name: { type: "string", minLength: 1, description: "What the program is called in messages." },
  staves: {
    type: "string",
    enum: OPTIONS.staves.enum,
    description: `Layout of the guitar's staves that the program reads best. ${OPTIONS.staves.description}`,
  },
  drops: {
    type: "array",
    uniqueItems: true,
    items: { type: "string", enum: Object.keys(DROPS) },
    description: Object.entries(DROPS)
      .map(([name, { loss }]) => `${name}: ${loss}`)
      .join(" "),
  },
  options: {
    type: "object",
    additionalProperties: false,
    properties: settable,
    description: "Options of the arrangement.",
  },
};

const COMPRESSED = { type: "boolean", description: "Whether guitar scores are to be compressed (.mxl)." };

const kindOfHost = (
  kind: string,
  description: string,
  required: readonly string[],
  own: Readonly<Record<string, unknown>>,
) => ({
  type: "object",
  description,
  additionalProperties: false,
  required: ["name", "kind", ...required],
  properties: { ...COMMON, kind: { const: kind }, ...own },
});

/** JSON Schema of a manifest. `host.schema.json` is made from it, for editors. */
export const HOST_SCHEMA = {
  $schema: "http://json-schema.org/draft-07/schema#",
  title: "How a notation program takes part",
  type: "object",
  required: ["name", "kind"],
  discriminator: { propertyName: "kind" },
  oneOf: [
    kindOfHost("folder", "Exports to a folder, by itself or as asked.", ["exportsTo"], {
      exportsTo: {
        type: "string",
        minLength: 1,
        description: 'Folder it exports to, from the manifest on; "~/" is your own folder.',
      },
      importsFrom: {
        type: "string",
        minLength: 1,
        description: "Folder for the guitar scores; beside the exported ones if nothing is said.",
      },
      compressed: COMPRESSED,
    }),
    kindOfHost("command", "Calls an external program with the file it exported.", [], {
      opens: {
        description: "What the guitar score is opened with.",
        anyOf: [
          { enum: ["nothing", "system"] },
          {
            type: "object",
            additionalProperties: false,
            required: ["program"],
            properties: { program: { type: "string", minLength: 1 } },
          },
        ],
      },
      compressed: COMPRESSED,
    }),
    kindOfHost("script", "Runs scripts inside itself.", [], {
      service: {
        type: "string",
        pattern: "^https?://",
        description: "Where the service listens, if elsewhere than usual.",
      },
    }),
  ],
};
