import { OPTIONS, type OptionName } from "undervoice";

/**
 * Options as they stand in a query, with numbers and truth values made from their text. Only that: what
 * is unknown or out of range is left as it is, for the check of the options to refuse by name.
 */
export const queryOptions = (query: Readonly<Record<string, unknown>>): Readonly<Record<string, unknown>> =>
  Object.fromEntries(Object.entries(query).map(([name, value]) => [name, readValue(name, value)]));

function readValue(name: string, text: unknown): unknown {
  if (typeof text !== "string" || !Object.hasOwn(OPTIONS, name)) return text;
  const { type } = OPTIONS[name as OptionName];
  if (type === "boolean") return text === "true" ? true : text === "false" ? false : text;
  if (type === "string" || text.trim() === "") return text;
  const number = Number(text);
  return Number.isFinite(number) ? number : text;
}
