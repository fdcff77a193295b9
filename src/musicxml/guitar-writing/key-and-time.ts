import { lastUntil } from "../../song/in-time-order.js";
import { LETTERS, type Letter, type PitchName, transposeName } from "../../song/pitch.js";
import {
  attributeOf,
  childNamed,
  childrenNamed,
  childText,
  element,
  elementsOf,
  textOf,
  withAttribute,
  withChildren,
  withoutChildrenNamed,
  type XmlElement,
} from "../../xml/xml-tree.js";
import type { WrittenKey } from "../chords/read-harmony.js";
import type { LeadSheet } from "../lead-sheet/lead-sheet.js";
import { transpositionInForce } from "../lead-sheet/transposition-in-force.js";
import { numberFrom } from "../numbers/read-number.js";
import type { KeyInForce } from "./accidentals.js";
import { copiedElement } from "./copied-element.js";
import { movedFifths } from "./moved-name.js";
import { intervalToGuitar, movedStep } from "./moved-step.js";

/** Key signatures of the guitar part: those of the tune, moved with it. */
export function movedKeys({ tune, source }: LeadSheet, interval: string): readonly KeyInForce[] {
  const listed = source.measures
    .flatMap(({ attributes }) => attributes)
    .flatMap(({ at, element: attributes }): readonly KeyInForce[] => {
      const key = forStaff(attributes, "key", source.staff);
      return key !== undefined && listsAccidentals(key)
        ? [
            {
              at,
              fifths: 0,
              listed: alterations(
                movedKeySteps(key, intervalToGuitar(transpositionInForce(source, at), interval)),
              ),
            },
          ]
        : [];
    });
  const counted = tune.keys
    .filter(({ at }) => !listed.some((key) => key.at === at))
    .map(({ at, fifths }) => ({ at, fifths: movedFifths(fifths, interval) }));
  const keys = [...counted, ...listed].toSorted((one, other) => one.at - other.at);
  return keys.length > 0 ? keys : [{ at: 0, fifths: movedFifths(0, interval) }];
}

/** The guitar's key signature at a tick, as it is read from what is written. */
export const keyShownAt = (
  keys: readonly KeyInForce[],
  { tune }: Pick<LeadSheet, "tune">,
  tick: number,
): WrittenKey => ({
  fifths: (lastUntil(keys, tick, startOf) ?? keys[0])?.fifths ?? 0,
  mode: (lastUntil(tune.keys, tick, startOf) ?? tune.keys[0])?.mode,
});

const startOf = ({ at }: { readonly at: number }): number => at;

const listsAccidentals = (key: XmlElement): boolean =>
  childNamed(key, "fifths") === undefined && childNamed(key, "key-step") !== undefined;

function alterations(key: XmlElement): ReadonlyMap<Letter, number> {
  const alters = childrenNamed(key, "key-alter");
  return new Map(
    childrenNamed(key, "key-step").flatMap((step, index) => {
      const letter = LETTERS.find((one) => one === textOf(step).trim());
      return letter === undefined ? [] : [[letter, keyAlter(alters[index]) ?? 0] as const];
    }),
  );
}

/**
 * The `<key>` for one the lead sheet has. A signature counted in fifths is written as `fifths`; one that
 * lists its accidentals keeps them, moved by `interval`.
 */
export function keyElement(source: XmlElement | undefined, fifths: number, interval: string): XmlElement {
  const copy = source && copiedElement(source);
  if (copy !== undefined && listsAccidentals(copy))
    return withAttribute(movedKeySteps(copy, interval), "number", undefined);
  const mode = copy && childText(copy, "mode");
  return element("key", { "print-object": copy && attributeOf(copy, "print-object") }, [
    element("fifths", {}, [fifths]),
    ...(mode === undefined || mode === "" ? [] : [element("mode", {}, [mode])]),
  ]);
}

const keyAlter = (alter: XmlElement | undefined): number | undefined =>
  alter && numberFrom("key-alter", textOf(alter));

/** A signature that lists its accidentals, moved. */
export function movedKeySteps(key: XmlElement, interval: string): XmlElement {
  if (interval === "1P") return key;
  const children = elementsOf(key);
  const steps = childrenNamed(key, "key-step");
  const alters = childrenNamed(key, "key-alter");
  // Quarter tones have no name to move by; a signature with them stays as it is.
  if (!alters.every((alter) => Number.isInteger(keyAlter(alter)))) return key;
  const moved = listedNames(key).map((name) => name && transposeName(name, interval));
  return withChildren(
    key,
    children.map((child) => {
      const step = moved[steps.indexOf(child)];
      const alter = moved[alters.indexOf(child)];
      if (step !== undefined) return element("key-step", {}, [step.letter]);
      return alter === undefined ? child : element("key-alter", {}, [alter.alter]);
    }),
  );
}

/** What a signature that lists its accidentals makes of each step that it names; undefined where there is no such step. */
export function listedNames(key: XmlElement): readonly (PitchName | undefined)[] {
  const alters = childrenNamed(key, "key-alter");
  return childrenNamed(key, "key-step").map((step, index) =>
    movedStep(textOf(step), keyAlter(alters[index]), "1P"),
  );
}

/** Of several `<key>` or `<time>` in one `<attributes>`, the one for the melody's staff. */
export const forStaff = (
  attributes: XmlElement,
  name: "key" | "time",
  staff: string,
): XmlElement | undefined => {
  const all = childrenNamed(attributes, name);
  return all.find((one) => [undefined, staff].includes(attributeOf(one, "number"))) ?? all[0];
};

/** A `<time>` as it stands, for every staff of the part. */
export const timeElement = (source: XmlElement): XmlElement =>
  withAttribute(withoutChildrenNamed(copiedElement(source), "footnote"), "number", undefined);

export const unprinted = (one: XmlElement): XmlElement => withAttribute(one, "print-object", "no");
