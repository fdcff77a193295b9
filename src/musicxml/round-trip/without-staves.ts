import { withoutChildren } from "../../xml/indentation.js";
import {
  attributeOf,
  childNamed,
  childText,
  element,
  textOf,
  withAttribute,
  withChildren,
  withElements,
  type XmlElement,
} from "../../xml/xml-tree.js";

/** Attributes of a measure that may be a staff's own. */
const OF_A_STAFF = ["clef", "key", "time", "staff-details", "transpose", "measure-style", "staff-size"];

/**
 * A part without some of its staves. Time that their notes took passes as before; where one staff is
 * left, it is staff 1 and need not say so.
 */
export function withoutStaves(part: XmlElement, gone: readonly string[]): XmlElement {
  const isGone = (number: string | undefined) => gone.includes(number?.trim() || "1");
  return withElements(part, (measure) =>
    measure.name === "measure" ? withElements(measure, (child) => remaining(child, isGone)) : measure,
  );
}

function remaining(
  child: XmlElement,
  isGone: (staff: string | undefined) => boolean,
): XmlElement | undefined {
  if (child.name === "attributes") {
    const kept = withoutChildren(
      child,
      (one) =>
        one.name === "staves" ||
        one.name === "part-symbol" ||
        (OF_A_STAFF.includes(one.name) &&
          attributeOf(one, "number") !== undefined &&
          isGone(attributeOf(one, "number"))),
    );
    return withElements(kept, (one) =>
      OF_A_STAFF.includes(one.name) ? withAttribute(one, "number", undefined) : one,
    );
  }
  const staff = childText(child, "staff");
  if (
    staff === undefined ||
    !["note", "forward", "harmony", "direction", "figured-bass"].includes(child.name)
  )
    return child;
  if (!isGone(staff)) return withoutChildren(child, ({ name }) => name === "staff");
  if (child.name !== "note")
    return child.name === "forward" ? withoutChildren(child, ({ name }) => name === "staff") : undefined;
  const duration = childNamed(child, "duration");
  const takesTime =
    duration !== undefined &&
    childNamed(child, "chord") === undefined &&
    childNamed(child, "grace") === undefined;
  return takesTime
    ? withChildren(element("forward"), [element("duration", {}, [textOf(duration)])])
    : undefined;
}
