import { attributeOf, childrenNamed, descendantAt, textOf, type XmlElement } from "./xml-tree.js";

/** Name of the score's miscellaneous field that says which parts were written here. */
export const OWN_MARK = "x-undervoice";

/** What a score that went through here before says about itself. */
export interface OwnMark {
  /** Ids of the guitar's parts: notation first, then TAB. */
  readonly parts: readonly string[];
  /** Whether the lead sheet's own parts are still beside the guitar. */
  readonly lead: "keep" | "drop";
}

/** Reads the mark; undefined where there is none or it was damaged. */
export function readOwnMark(score: XmlElement): OwnMark | undefined {
  const miscellaneous = descendantAt(score, "identification", "miscellaneous");
  if (miscellaneous === undefined) return undefined;
  const field = childrenNamed(miscellaneous, "miscellaneous-field").find(
    (candidate) => attributeOf(candidate, "name") === OWN_MARK,
  );
  if (field === undefined) return undefined;
  try {
    const value: unknown = JSON.parse(textOf(field));
    if (typeof value !== "object" || value === null) return undefined;
    const { parts, lead } = value as { readonly parts?: unknown; readonly lead?: unknown };
    if (!Array.isArray(parts) || !parts.every((id) => typeof id === "string")) return undefined;
    return { parts, lead: lead === "drop" ? "drop" : "keep" };
  } catch {
    return undefined;
  }
}
