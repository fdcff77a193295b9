import type { Digests } from "../../arrangement/measure-digests.js";
import { PROGRAM } from "../../version.js";
import { type Indentation, withAppended, withInserted } from "../../xml/indentation.js";
import {
  childNamed,
  childrenNamed,
  element,
  elementsOf,
  textOf,
  withChildren,
  type XmlElement,
} from "../../xml/xml-tree.js";
import { isOwnField, markText, OWN_MARK, type OwnMark } from "./provenance.js";

/** Children of a score that come before its identification, and those of an identification before each. */
const BEFORE_IDENTIFICATION = ["work", "movement-number", "movement-title"];
const BEFORE_ENCODING = ["creator", "rights"];
const BEFORE_MISCELLANEOUS = [...BEFORE_ENCODING, "encoding", "source", "relation"];

/** The score with the mark that says where it comes from, and the program's name among its software. */
export function withMarkOf(
  score: XmlElement,
  mark: OwnMark,
  made: Digests,
  indentation: Indentation,
): XmlElement {
  const field = element("miscellaneous-field", { name: OWN_MARK }, [markText(mark, made)]);
  return withChild(score, "identification", BEFORE_IDENTIFICATION, indentation, 0, (identification) => {
    const encoded = withChild(identification, "encoding", BEFORE_ENCODING, indentation, 1, (encoding) =>
      childrenNamed(encoding, "software").some((software) => textOf(software).trim() === PROGRAM)
        ? encoding
        : withAppended(encoding, [element("software", {}, [PROGRAM])], indentation, 2),
    );
    return withChild(encoded, "miscellaneous", BEFORE_MISCELLANEOUS, indentation, 1, (miscellaneous) => {
      const old = childrenNamed(miscellaneous, "miscellaneous-field").find(isOwnField);
      if (old === undefined) return withAppended(miscellaneous, [field], indentation, 2);
      return withChildren(
        miscellaneous,
        miscellaneous.children.map((child) => (child === old ? field : child)),
      );
    });
  });
}

/** With one child changed; a new one is put in its place by the schema where there is none. */
function withChild(
  parent: XmlElement,
  name: string,
  before: readonly string[],
  indentation: Indentation,
  depth: number,
  change: (child: XmlElement) => XmlElement,
): XmlElement {
  const there = childNamed(parent, name);
  if (there !== undefined)
    return withChildren(
      parent,
      parent.children.map((child) => (child === there ? change(there) : child)),
    );
  // Made without line breaks: the place where it is put in lays it out.
  const made = change(element(name));
  const bare = withoutLayout(made);
  const next = elementsOf(parent).find((child) => !before.includes(child.name));
  return next === undefined
    ? withAppended(parent, [bare], indentation, depth)
    : withInserted(parent, next, [bare], indentation, depth);
}

const withoutLayout = (made: XmlElement): XmlElement =>
  elementsOf(made).length === 0 ? made : withChildren(made, elementsOf(made).map(withoutLayout));
