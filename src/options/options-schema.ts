import { OPTIONS } from "./options.js";

/** JSON Schema (draft 7) of a set of options, made from the table; every one may be left out. */
export const OPTIONS_SCHEMA = {
  $schema: "http://json-schema.org/draft-07/schema#",
  title: "Options of an arrangement",
  type: "object",
  additionalProperties: false,
  properties: Object.fromEntries(
    Object.entries(OPTIONS).map(([name, { decides: _decides, concerns: _concerns, ...row }]) => [
      name,
      Object.fromEntries(Object.entries(row).filter(([, value]) => value !== undefined)),
    ]),
  ),
};
