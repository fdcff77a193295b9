import type { Instrument } from "../../guitar/instrument.js";
import { stringCount } from "../../guitar/instrument.js";
import { midiOf, type Pitch, parsePitchName, pitchNamed } from "../../song/pitch.js";
import { element, type XmlElement } from "../../xml/xml-tree.js";
import type { GuitarPart, StaffStyle } from "./staff-style.js";

/** `<staves>` where there are several, then clefs, then the TAB staff's lines and tuning. */
export function staffAttributes(
  part: GuitarPart,
  instrument: Instrument,
  tuning: string,
): readonly XmlElement[] {
  const { staves } = part;
  const openStrings = openStringPitches(instrument, tuning);
  return [
    ...(staves.length > 1 ? [element("staves", {}, [staves.length])] : []),
    ...staves.map((style) => clefElement(style, stringCount(instrument))),
    ...staves
      .filter((style) => style.isTab)
      .map((style) => staffDetails(style, openStrings, instrument.capo)),
  ];
}

/**
 * Pitches are written as they sound; the small 8 under the clef shows them an octave higher, as guitar
 * music is read. A `<transpose>` beside it would move them twice.
 */
const clefElement = (style: StaffStyle, strings: number): XmlElement =>
  element(
    "clef",
    { number: style.staff },
    style.isTab
      ? // The sign is centred on the staff: line 5 of six.
        [element("sign", {}, ["TAB"]), element("line", {}, [strings - 1])]
      : [element("sign", {}, ["G"]), element("line", {}, [2]), element("clef-octave-change", {}, [-1])],
  );

/** Lines count from the bottom, strings from the top: line 1 is the highest-numbered string. */
const staffDetails = (style: StaffStyle, openStrings: readonly Pitch[], capo: number): XmlElement =>
  element("staff-details", { number: style.staff }, [
    // "alternate": the same music as the staff above, shown another way.
    ...(style.isMain ? [] : [element("staff-type", {}, ["alternate"])]),
    element("staff-lines", {}, [openStrings.length]),
    ...openStrings
      .map((pitch, index) =>
        element("staff-tuning", { line: openStrings.length - index }, [
          element("tuning-step", {}, [pitch.letter]),
          ...(pitch.alter === 0 ? [] : [element("tuning-alter", {}, [pitch.alter])]),
          element("tuning-octave", {}, [pitch.octave]),
        ]),
      )
      .reverse(),
    ...(capo === 0 ? [] : [element("capo", {}, [capo])]),
  ]);

/** Open strings without capo, string 1 first, spelled as the tuning was asked for. */
function openStringPitches({ openStrings }: Instrument, tuning: string): readonly Pitch[] {
  const asked = tuning
    .trim()
    .split(/[\s,]+/)
    .flatMap((text): readonly Pitch[] => {
      const [, name, octave] = /^(.*?)(-?\d+)$/.exec(text) ?? [];
      const parsed = name === undefined ? undefined : parsePitchName(name[0]?.toUpperCase() + name.slice(1));
      return parsed === undefined ? [] : [{ ...parsed, octave: Number(octave) }];
    });
  return openStrings.map((midi) => asked.find((pitch) => midiOf(pitch) === midi) ?? spelled(midi));
}

const NATURALS = ["C", "D", "E", "F", "G", "A", "B"] as const;

/** A natural where there is one, else the sharp below it. */
function spelled(midi: number): Pitch {
  for (const alter of [0, 1])
    for (const letter of NATURALS) {
      const pitch = pitchNamed({ letter, alter }, midi);
      if (pitch !== undefined) return pitch;
    }
  throw new RangeError(`no pitch ${midi}`);
}
