import { type Finding, Findings } from "../../diagnostics.js";
import { attributeOf, type XmlElement } from "../../xml/xml-tree.js";
import { type NamedPart, partsOf } from "./partwise.js";
import { walkPart } from "./walk-part.js";
import type { WalkedPart } from "./walked-part.js";

/**
 * The parts of a partwise score with a time for everything in them. Trees are never changed, so a part that
 * was walked is not walked again: a score that comes back is read as a guitar part, as what was made here,
 * and, without its guitar, as a lead sheet.
 *
 * @throws ScoreError as `walkPart` does
 */
export const walkedParts = (score: XmlElement, findings: Findings): readonly WalkedPart[] =>
  partsOf(score, findings).map((part) => walkedPart(part, findings));

/** One part, walked once; what was odd about it is said each time. */
export function walkedPart(part: NamedPart, findings: Findings): WalkedPart {
  let walk = WALKED.get(part.element);
  if (walk === undefined) {
    const said = new Findings();
    walk = { part: walkPart(part, said), said: said.all };
    WALKED.set(part.element, walk);
  }
  for (const finding of walk.said) findings.add(finding);
  return walk.part.name === part.name ? walk.part : { ...walk.part, name: part.name };
}

/** One part by itself, of a score whose oddities are said elsewhere. */
export const walkedAlone = (element: XmlElement): WalkedPart =>
  walkedPart({ id: attributeOf(element, "id") ?? "", name: "", element }, new Findings());

interface Walk {
  readonly part: WalkedPart;
  readonly said: readonly Finding[];
}

const WALKED = new WeakMap<XmlElement, Walk>();
