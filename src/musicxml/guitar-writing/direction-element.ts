import { elementsOf, withAttribute, withElements, type XmlElement } from "../../xml/xml-tree.js";
import { copiedElement } from "./copied-element.js";

/** Directions that say how another instrument is played, or where its staff is drawn. */
const OF_THE_LEAD_ONLY = [
  "octave-shift",
  "pedal",
  "harp-pedals",
  "damp",
  "damp-all",
  "string-mute",
  "scordatura",
  "accordion-registration",
  "percussion",
  "staff-divide",
  "image",
];

/** What a `<sound>` changes in one instrument, by the ids of another part. */
const SOUND_OF_AN_INSTRUMENT = ["midi-device", "midi-instrument", "play", "instrument-change"];
const SOUND_ATTRIBUTES_OF_AN_INSTRUMENT = [
  "pizzicato",
  "pan",
  "elevation",
  "damper-pedal",
  "soft-pedal",
  "sostenuto-pedal",
];

/**
 * A `<direction>` or `<sound>` of the lead sheet for the guitar part: tempo, words, dynamics, signs and
 * jumps as they stand; undefined where nothing in it concerns the guitar.
 */
export function directionElement(source: XmlElement): XmlElement | undefined {
  const copy = copiedElement(source);
  if (copy.name === "sound") return soundElement(copy);
  const kept = withElements(copy, (child) => {
    if (child.name === "direction-type")
      return elementsOf(child).some(({ name }) => OF_THE_LEAD_ONLY.includes(name)) ? undefined : child;
    if (child.name === "sound") return soundElement(child);
    return ["offset", "voice", "staff", "listening"].includes(child.name) ? undefined : child;
  });
  return elementsOf(kept).some(({ name }) => name === "direction-type") ? kept : undefined;
}

export function soundElement(sound: XmlElement): XmlElement | undefined {
  const left = withElements(sound, (child) =>
    [...SOUND_OF_AN_INSTRUMENT, "offset"].includes(child.name) ? undefined : child,
  );
  const general = SOUND_ATTRIBUTES_OF_AN_INSTRUMENT.reduce(
    (rest, name) => withAttribute(rest, name, undefined),
    left,
  );
  return general.attributes.size > 0 || general.children.length > 0 ? general : undefined;
}
