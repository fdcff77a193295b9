import { element, everyNamed, type XmlElement } from "../../xml/xml-tree.js";
import { numberIn } from "../numbers/read-number.js";
import type { GuitarPart } from "./staff-style.js";

/** MIDI program of the nylon-string guitar, counted from 1. */
const NYLON_GUITAR = 25;

/** MIDI channels count from 1; 10 is percussion. */
const MELODIC_CHANNELS = [1, 2, 3, 4, 5, 6, 7, 8, 9, 11, 12, 13, 14, 15, 16];

/**
 * Entries of the part list, one a part. The silent TAB has a channel of its own: its volume of 0 would
 * otherwise silence the notation in programs that send the volume to the channel.
 */
export function scorePartElements(
  ids: readonly string[],
  parts: readonly GuitarPart[],
  partList: XmlElement,
): readonly XmlElement[] {
  const taken = everyNamed(partList, "midi-instrument").map((one) => numberIn(one, "midi-channel"));
  const free = MELODIC_CHANNELS.filter((channel) => !taken.includes(channel));
  const channels = free.length >= parts.length ? free : MELODIC_CHANNELS;
  return parts.map((part, index) => {
    const id = ids[index] ?? "";
    const instrument = `${id}-I1`;
    return element("score-part", { id }, [
      element("part-name", {}, [part.name]),
      element("part-abbreviation", {}, [part.abbreviation]),
      element("score-instrument", { id: instrument }, [element("instrument-name", {}, ["Nylon guitar"])]),
      element("midi-instrument", { id: instrument }, [
        element("midi-channel", {}, [channels[index] ?? 1]),
        element("midi-program", {}, [NYLON_GUITAR]),
        ...(part.staves.some(({ isMain }) => isMain) ? [] : [element("volume", {}, [0])]),
      ]),
    ]);
  });
}

/** Several parts stand in one bracket, with barlines through. */
export function grouped(scoreParts: readonly XmlElement[], number: number): readonly XmlElement[] {
  if (scoreParts.length < 2) return scoreParts;
  return [
    element("part-group", { type: "start", number }, [
      element("group-symbol", {}, ["bracket"]),
      element("group-barline", {}, ["yes"]),
    ]),
    ...scoreParts,
    element("part-group", { type: "stop", number }),
  ];
}
