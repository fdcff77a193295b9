import {
  attributeOf,
  childNamed,
  childText,
  element,
  elementsOf,
  everyNamed,
  type XmlElement,
} from "../../xml/xml-tree.js";
import { exactIn, exactNumber } from "../numbers/read-number.js";
import type { Quarters } from "./exact-time.js";
import { lengthByType } from "./note-length.js";

/** Quarter notes a minute that a direction or sound element sets; undefined where it sets none. */
export function tempoOf(direction: XmlElement): Quarters | undefined {
  for (const sound of everyNamed(direction, "sound")) {
    const tempo = exactNumber("sound@tempo", attributeOf(sound, "tempo"));
    if (tempo !== undefined) return tempo;
  }
  for (const metronome of everyNamed(direction, "metronome")) {
    const perMinute = exactIn(metronome, "per-minute");
    const unit = beatUnit(metronome);
    if (perMinute !== undefined && unit !== undefined) return perMinute.mul(unit);
  }
  return undefined;
}

/** The note before the equals sign, in quarter notes; undefined for metric modulations and note groups. */
function beatUnit(metronome: XmlElement): Quarters | undefined {
  const unit = childText(metronome, "beat-unit");
  if (unit === undefined || childNamed(metronome, "per-minute") === undefined) return undefined;
  const dots = elementsOf(metronome).filter((child) => child.name === "beat-unit-dot");
  return lengthByType(element("note", {}, [element("type", {}, [unit]), ...dots.map(() => element("dot"))]));
}
