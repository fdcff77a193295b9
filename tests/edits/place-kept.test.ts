import { describe, expect, test } from "vitest";
import { parseXml } from "../../src/xml/parse-xml.js";
import { attributeOf, childrenNamed, withElements } from "../../src/xml/xml-tree.js";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";
import { again, type Made, made } from "./edited.js";
import { type Change, everyNote, inTurn, pitchOf, withPitch, withTechnical } from "./score-changes.js";

const sheet = (bars: string) => parseXml(leadSheetFromText(`key: 0 major\ntime: 4/4\n\n${bars}`));

/** Tunes that lie where guitars do, below, above, and over more than their strings have. */
const TUNES = {
  "in the middle": sheet("[C] E4/2 G4/2 | [F] A4/2 C5/2 ||"),
  low: sheet("[C] E2/2 G2/2 | [F] A2/2 F2/2 ||"),
  "an only note, very low": sheet("[C] E1/1 ||"),
  high: sheet("[C] E6/2 G6/2 | [F] A6/2 C7/2 ||"),
  "an only note, very high": sheet("[C] E8/1 ||"),
  wide: sheet("[C] E3/2 C4/2 | [F] A4/2 F5/2 | [G7] G5/2 B4/2 ||"),
  "very wide": sheet("[C] E2/2 C4/2 | [F] D5/2 F5/2 ||"),
};

/** What leaves a melody few places, or moves them. */
const NECKS: readonly object[] = [
  {},
  { level: "elementary" },
  { level: "elementary", capo: 11 },
  { level: "intermediate", capo: 5, strings: "1" },
  { strings: "2" },
  { strings: "6", capo: 5 },
  { strings: "6", frets: 5 },
  { strings: "1-6", capo: 11, frets: 5 },
  { strings: "1", frets: 5, key: "best" },
  { capo: 11, strings: "2", key: "best" },
  { capo: 5, frets: 5, bass: "roots" },
  { tuning: "A2 D3 F#3 B3", frets: 5 },
];

const PLACE_RULES = ["tune-moved-by-octave", "tune-moved-to-other-key", "melody-on-more-of-the-neck"];
const ruleOf = (said: string) => said.split(" ")[0] ?? "";
const ofPlace = ({ said }: Pick<Made, "said">) =>
  said.map(ruleOf).filter((rule) => PLACE_RULES.includes(rule));
/** "64 1/0" of an attack at its beat. */
const placeOf = (attack: string) => attack.replace(/^\S+ \S+ (\S+) (.*)-\d$/, "$1 $2");
const unedited: Change = (root) => root;

describe("the melody stays where it was placed, and nothing is said of it again", () => {
  test.each(Object.entries(TUNES))("%s", (_, tune) => {
    for (const neck of NECKS)
      for (const options of [
        { ...neck, lead: "keep" },
        { ...neck, lead: "keep", leadKey: "written" },
        { ...neck, lead: "drop" },
        { ...neck, lead: "drop", staves: "tab" },
      ]) {
        const before = made(tune, options);
        const back = again(before, unedited);
        const { gone } = back;
        expect({ options, gone, said: back.said }).toEqual({ options, gone: [], said: [] });
        expect(back.text).toBe(before.text);
      }
  });

  test("which is said of each kind of place when it is found", () => {
    const said = Object.values(TUNES).flatMap((tune) => NECKS.flatMap((neck) => ofPlace(made(tune, neck))));
    expect([...new Set(said)].toSorted()).toEqual(PLACE_RULES.toSorted());
  });
});

describe("a melody that lies beyond its strings stays there", () => {
  /** Notes before the first chord are played alone. */
  const ALONE = sheet("E4/2 G4/2 | [C] r/1 ||");

  /** Puts a note of both staves elsewhere. */
  const put = (which: string, pitch: string, string: number, fret: number): Change =>
    everyNote((note) =>
      pitchOf(note) === which ? withTechnical({ string, fret })(withPitch(pitch)(note)) : note,
    );

  /** A change of the guitar that leaves the lead sheet as it is. */
  const besideLead =
    (change: Change): Change =>
    (root) => {
      const lead = childrenNamed(root, "part").find((part) => attributeOf(part, "id") === "P1");
      return withElements(change(root), (part) =>
        lead !== undefined && part.name === "part" && attributeOf(part, "id") === "P1" ? lead : part,
      );
    };

  test("where another texture is asked for, and that is said as it is now", () => {
    for (const lead of ["keep", "drop"]) {
      const before = made(TUNES["an only note, very low"], { capo: 11, lead, level: "elementary" });
      const back = again(before, unedited, { texture: "full" });
      expect(back.attacks).toEqual(before.attacks);
      const isNowhere = /too wide for its strings in any key/;
      const said = back.messages.find((message) => message.includes("1 note of it use other strings"));
      expect(said).toMatch(
        lead === "keep" ? isNowhere : /does not lie on its strings where the guitar plays/,
      );
      expect(again(back, unedited)).toMatchObject({ text: back.text, said: [] });
    }
  });

  test("where the player put it there, an octave below", () => {
    const lower = inTurn(put("E4", "E3", 4, 2), put("G4", "G3", 3, 0));
    const back = again(made(ALONE, { strings: "1" }), besideLead(lower));
    expect(back.come.map(placeOf)).toEqual(["52 4/2", "55 3/0"]);
  });

  test("but not where no neck has it, and that is said", () => {
    const higher = inTurn(put("E4", "E7", 1, 36), put("G4", "G7", 1, 39));
    const before = made(ALONE);
    const back = again(before, besideLead(higher));
    expect(back.text).toBe(before.text);
    expect(back.said).toEqual(["edits-not-kept"]);
  });

  test("where the player put one note of a melody there that stands alone", () => {
    const before = made(ALONE, { strings: "1", lead: "drop" });
    const back = again(before, put("E4", "E3", 4, 2));
    expect(back.gone.map(placeOf)).toEqual(["64 1/0"]);
    expect(back.come.map(placeOf)).toEqual(["52 4/2"]);
    expect(again(back, unedited)).toMatchObject({ text: back.text, said: [] });
  });
});
