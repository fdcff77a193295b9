import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test, vi } from "vitest";
import { parseXml } from "../../src/xml/parse-xml.js";
import { printXml } from "../../src/xml/print-xml.js";
import {
  attributeOf,
  childNamed,
  childrenNamed,
  childText,
  element,
  elementsOf,
  withAttribute,
  withChildren,
  withElements,
  withoutChildrenNamed,
  type XmlElement,
} from "../../src/xml/xml-tree.js";
import { isSchemaHere, schemaErrors } from "../support/schema.js";
import { harmony, leadSheet, note } from "../support/score-text.js";
import { again, type Made, made, madeFrom } from "./edited.js";
import {
  type Change,
  changeHarmony,
  changeNote,
  inMeasures,
  inPart,
  inTurn,
  merged,
  withPitch,
} from "./score-changes.js";

vi.mock("../../src/arranging/costs/cost-table.js", async (original) =>
  (await import("./plain-costs.js")).withPlainCosts(original),
);

/** Lead sheet P1, notation P2, TAB P3. */
const written: Made = madeFrom({});

const sign = (text: string): XmlElement => parseXml(text).root;

/** What a person puts on one note, in `<notations>`. */
const ON_NOTES = [
  "<articulations><staccato/></articulations>",
  '<articulations><accent placement="above"/><tenuto/></articulations>',
  "<articulations><breath-mark>comma</breath-mark></articulations>",
  "<ornaments><trill-mark/></ornaments>",
  "<ornaments><mordent/><accidental-mark>flat</accidental-mark></ornaments>",
  '<ornaments><tremolo type="single">3</tremolo></ornaments>',
  "<technical><harmonic><natural/></harmonic></technical>",
  "<technical><bend><bend-alter>2</bend-alter></bend></technical>",
  "<technical><tap/></technical>",
  "<technical><pluck>m</pluck></technical>",
  "<technical><golpe/></technical>",
  "<dynamics><mf/></dynamics>",
  '<dynamics placement="below"><other-dynamics>meno f</other-dynamics></dynamics>',
  '<fermata type="upright">normal</fermata>',
  "<arpeggiate/>",
  '<arpeggiate direction="down"/>',
  '<non-arpeggiate type="bottom"/>',
  "<accidental-mark>sharp</accidental-mark>",
  '<tied type="let-ring"/>',
  '<other-notation type="single">brushed</other-notation>',
];

/** What joins two notes. */
const LINES = ["slur", "glissando", "slide", "hammer-on", "pull-off"];

/** What stands above or below a staff. */
const DIRECTIONS = [
  '<words font-style="italic">dolce</words>',
  "<words>rit.</words>",
  "<rehearsal>B</rehearsal>",
  "<dynamics><p/></dynamics>",
  "<metronome><beat-unit>quarter</beat-unit><per-minute>88</per-minute></metronome>",
  "<segno/>",
  "<symbol>coda</symbol>",
];
const DIRECTION_LINES = [
  ['<wedge type="crescendo"/>', '<wedge type="stop"/>'],
  ['<dashes type="start"/>', '<dashes type="stop"/>'],
  ['<bracket type="start" line-end="none"/>', '<bracket type="stop" line-end="up"/>'],
  ['<octave-shift type="down" size="8"/>', '<octave-shift type="stop" size="8"/>'],
] as const;

const directionOf = (content: string): XmlElement =>
  element("direction", { placement: "above" }, [element("direction-type", {}, [sign(content)])]);

const lineEnd = (name: string, type: "start" | "stop", number = 1): string => {
  const one = `<${name} type="${type}" number="${number}"${name === "slur" ? "" : ">gl."}${name === "slur" ? "/>" : `</${name}>`}`;
  return name === "hammer-on" || name === "pull-off" ? `<technical>${one}</technical>` : one;
};

/** Each note of a part with what the change makes of it, by its number. */
const eachNote = (part: string, change: (note: XmlElement, number: number) => XmlElement): Change => {
  let number = -1;
  return inPart(
    part,
    inMeasures((measure) =>
      withElements(measure, (child) => {
        if (child.name !== "note" || childNamed(child, "pitch") === undefined) return child;
        number += 1;
        return change(child, number);
      }),
    ),
  );
};

const fresh =
  (change: () => Change): Change =>
  (root) =>
    change()(root);

/** The note with one more `<notations>`, as programs write them; before what was only kept on record. */
const withNotations = (note: XmlElement, text: string): XmlElement => {
  const children = elementsOf(note);
  const at = children.findIndex(({ name }) => name === "notations" || name === "lyric");
  const added = element("notations", {}, [sign(text)]);
  return withChildren(
    note,
    at < 0 ? [...children, added] : [...children.slice(0, at + 1), added, ...children.slice(at + 1)],
  );
};

const onNote = (part: string, number: number, text: string): Change =>
  fresh(() => eachNote(part, (note, index) => (index === number ? withNotations(note, text) : note)));

/** A direction before the so manieth child note of a part. */
const signBefore = (part: string, number: number, direction: XmlElement): Change =>
  fresh(() => {
    let count = -1;
    return inPart(
      part,
      inMeasures((measure) =>
        withChildren(
          measure,
          elementsOf(measure).flatMap((child) => {
            const isStruck = child.name === "note" && childNamed(child, "chord") === undefined;
            if (isStruck) count += 1;
            return isStruck && count === number ? [direction, child] : [child];
          }),
        ),
      ),
    );
  });

/** Every mark of the guitar as a line of text: what note it is on, or what time it stands at, and what it is. */
function marksIn(root: XmlElement): readonly string[] {
  const parts = childrenNamed(root, "part").filter((part) => GUITAR.includes(attributeOf(part, "id") ?? ""));
  return parts
    .flatMap((part) =>
      childrenNamed(part, "measure").flatMap((measure, index) => {
        const here = `${attributeOf(part, "id")} ${index + 1}`;
        let at = 0;
        return elementsOf(measure).flatMap((child) => {
          const offset = Number(childText(child, "offset") ?? 0);
          const duration = Number(childText(child, "duration") ?? 0);
          if (child.name === "backup") at -= duration;
          else if (childNamed(child, "chord") === undefined) at += duration;
          if (child.name === "direction")
            return childrenNamed(child, "direction-type").map(
              (type) => `${here} at ${at + offset}: ${textFrom(type)}`,
            );
          return childrenNamed(child, "notations").flatMap((notations) =>
            elementsOf(notations).flatMap((one) =>
              HOLDERS.includes(one.name)
                ? elementsOf(one).map(
                    (held) => `${here} ${attributeOf(child, "id")}: ${one.name} ${textFrom(held)}`,
                  )
                : [`${here} ${attributeOf(child, "id")}: ${textFrom(one)}`],
            ),
          );
        });
      }),
    )
    .sort();
}

const GUITAR = ["P2", "P3"];
const HOLDERS = ["articulations", "ornaments", "technical"];

const textFrom = (one: XmlElement): string =>
  printXml({ prolog: "", root: one, epilog: "" }).replace(/>\s+</g, "><").trim();

const rootOf = (text: string): XmlElement => parseXml(text).root;

function expectAllKept(made: Made, change: Change, options: object = {}): void {
  const came = marksIn(change(rootOf(made.text)));
  const back = again(made, change, options);
  expect(marksIn(rootOf(back.text))).toEqual(came);
  expect(back.said).toEqual([]);
  expectStays(back, options);
}

function expectStays(back: Made, options: object = {}): void {
  const third = again(back, (root) => root, options);
  expect(third.text).toBe(back.text);
  expect(third.said.filter((rule) => rule.startsWith("marks-not-kept"))).toEqual([]);
  if (isSchemaHere) expect(schemaErrors(back.text)).toBe("");
}

describe("a mark that a player puts on the guitar part is there when the part is made again, and stays", () => {
  test.each(ON_NOTES)("on every note: %s", (text) => {
    const onEach = (part: string) => fresh(() => eachNote(part, (note) => withNotations(note, text)));
    expectAllKept(written, inTurn(onEach("P2"), onEach("P3")));
  });

  test.each(DIRECTIONS)("above every note: %s", (content) => {
    const everywhere = ["P2", "P3"].flatMap((part) =>
      Array.from({ length: 20 }, (_, number) => signBefore(part, number, directionOf(content))),
    );
    expectAllKept(written, inTurn(...everywhere));
  });

  test.each(LINES)("a %s from one note to another", (name) => {
    for (const part of ["P2", "P3"])
      expectAllKept(
        written,
        fresh(() =>
          eachNote(part, (note, number) =>
            withNotations(note, lineEnd(name, number % 2 === 0 ? "start" : "stop")),
          ),
        ),
      );
  });

  test.each(DIRECTION_LINES)("a line that begins with %s", (start, stop) => {
    expectAllKept(
      written,
      inTurn(
        signBefore("P2", 3, directionOf(start)),
        signBefore("P2", 6, directionOf(stop)),
        signBefore("P2", 8, directionOf(start)),
        signBefore("P2", 9, directionOf(stop)),
      ),
    );
  });

  test.each(["P2", "P3"])("a bend and its release, on one note of %s", (part) => {
    const bend = "<technical><bend><bend-alter>2</bend-alter></bend></technical>";
    const release = "<technical><bend><bend-alter>0</bend-alter><release/></bend></technical>";
    expectAllKept(written, inTurn(onNote(part, 3, bend), onNote(part, 3, release)));
  });

  test("any of them together, on any notes", () => {
    const part = fc.constantFrom("P2", "P3");
    const number = fc.nat({ max: 50 });
    const mark = fc.oneof(
      fc.record({ part, number, text: fc.constantFrom(...ON_NOTES) }),
      fc.record({ part, number: fc.nat({ max: 25 }), content: fc.constantFrom(...DIRECTIONS) }),
    );
    fc.assert(
      fc.property(fc.array(mark, { minLength: 1, maxLength: 8 }), (marks) => {
        const changes = marks.map((one) =>
          "text" in one
            ? onNote(one.part, one.number, one.text)
            : signBefore(one.part, one.number, directionOf(one.content)),
        );
        expectAllKept(written, inTurn(...changes));
      }),
      { numRuns: 15 },
    );
  });
});

describe("a mark stays on its note whatever else is made anew", () => {
  const marked = inTurn(
    changeNote(["P2", 6, 1, "C4"], (one) => withNotations(one, "<articulations><accent/></articulations>")),
    changeNote(["P2", 7, 3, "C5"], (one) => withNotations(one, '<fermata type="upright"/>')),
    changeNote(["P2", 2, 3, "D5"], (one) => withNotations(one, lineEnd("slur", "start"))),
    changeNote(["P2", 2, 4, "C5"], (one) => withNotations(one, lineEnd("slur", "stop"))),
    signBefore("P2", 3, directionOf("<words>dolce</words>")),
  );
  const there = (back: Made) =>
    ["<accent/>", "<fermata ", "<slur ", "dolce"].map((text) => back.text.split(text).length - 1);

  test.each([
    { staves: "joined" },
    { staves: "tab" },
    { lead: "drop" },
    { staves: "joined", lead: "drop" },
    { texture: "full" },
    { texture: "lean" },
    { key: "Eb" },
    { bass: "roots" },
  ])("%o", (options) => {
    const back = again(written, marked, options);
    expect(there(back)).toEqual([1, 1, 2, 1]);
    expect(back.said).not.toContainEqual(expect.stringMatching(/^marks-not-kept/));
    expectStays(back);
  });

  test("marks on lines of their own leave nothing behind where the guitar part is the lead sheet", () => {
    const inLines = '<ornaments>\n  <tremolo type="single">3</tremolo>\n</ornaments>';
    const back = again(
      madeFrom({ lead: "drop" }),
      inTurn(
        changeNote(["P1", 2, 1, "E5"], (one) => withNotations(one, inLines)),
        signBefore("P1", 3, directionOf("\n  <words>dolce</words>\n")),
      ),
    );
    expect(back.text.match(/<ornaments/g)).toHaveLength(1);
    expect(back.text.match(/<tremolo/g)).toHaveLength(1);
    expect(back.text.match(/dolce/g)).toHaveLength(1);
    expectStays(back);
  });

  test("an edit in the same measure, and a melody note that is another now", () => {
    const back = again(
      written,
      inTurn(
        changeNote(["P2", 6, 1, "F4"], withPitch("E4")),
        changeNote(["P1", 7, 3, "C5"], withPitch("E5")),
        marked,
      ),
    );
    expect(there(back)).toEqual([1, 1, 2, 1]);
    expectStays(back);
  });

  test("the lead sheet and the guitar brought together in one part", () => {
    const back = again(written, inTurn(marked, merged("P1", "P2", "P3")));
    expect(there(back)).toEqual([1, 1, 2, 1]);
  });

  test("what belongs to a chord goes to what is struck there now; what belonged to a note that is gone is named", () => {
    const back = again(
      written,
      inTurn(
        changeNote(["P2", 3, 1, "D4"], (one) =>
          withNotations(one, "<articulations><accent/></articulations>"),
        ),
        changeNote(["P2", 3, 1, "D4"], (one) =>
          withNotations(one, "<technical><bend><bend-alter>1</bend-alter></bend></technical>"),
        ),
        changeHarmony("P1", 3, 0, "F", "major"),
      ),
    );
    expect(back.text).toContain("<accent/>");
    expect(back.said).toContain("marks-not-kept 3");
    expect(back.messages).toContain(
      "The note that each of these marks stood on is there no more, and they are lost: bend in measure 3.",
    );
    expectStays(back);
  });
});

describe("a mark that the guitar part has from the lead sheet is no player's", () => {
  const slur = (type: "start" | "stop") => `<notations>${lineEnd("slur", type)}</notations>`;
  const accent = "<notations><articulations><accent/></articulations></notations>";
  const forte = "<direction><direction-type><dynamics><f/></dynamics></direction-type></direction>";
  const sheet = leadSheet(
    harmony("C") +
      note("C5", 4, { after: slur("start") }) +
      note("D5", 4, { after: slur("stop") }) +
      forte +
      note("E5", 8),
    harmony("F") + note("A4", 8, { after: accent }) + note("C5", 8),
  );
  const before = made(parseXml(sheet));
  const count = (text: string, what: string) => text.split(what).length - 1;

  test("what is taken out of the lead sheet goes from the guitar part too", () => {
    const without = inPart(
      "P1",
      inMeasures((measure) =>
        withoutChildrenNamed(
          withElements(measure, (child) => withoutChildrenNamed(child, "notations")),
          "direction",
        ),
      ),
    );
    const back = again(before, without);
    expect(back.said).toEqual([]);
    for (const what of ["<slur ", "<accent/>", "<f/>"]) expect(count(back.text, what)).toBe(0);
  });

  test("what a program puts on another note or beat of the measure is not doubled", () => {
    const moved = fresh(() =>
      inPart(
        "P2",
        inMeasures((measure) => {
          const direction = elementsOf(measure).find(({ name }) => name === "direction");
          if (direction === undefined) return measure;
          return withChildren(measure, [
            ...elementsOf(measure).filter((child) => child !== direction),
            direction,
          ]);
        }),
      ),
    );
    const back = again(before, moved);
    expect(back.text).toBe(before.text);
  });

  test("a slur of the player's at the same time gets a number of its own", () => {
    const renumbered = (one: XmlElement): XmlElement =>
      withElements(one, (child) =>
        child.name === "slur" ? withAttribute(child, "number", 2) : renumbered(child),
      );
    const under = inTurn(
      inPart("P2", renumbered),
      changeNote(["P2", 1, 1, "C5"], (one) => withNotations(one, lineEnd("slur", "start"))),
      changeNote(["P2", 1, 3, "E5"], (one) => withNotations(one, lineEnd("slur", "stop"))),
    );
    const back = again(before, under);
    expect(back.said).toEqual([]);
    expect(count(back.text, '<slur type="start" number="2"/>')).toBe(1);
    expect(count(back.text, '<slur type="stop" number="2"/>')).toBe(1);
    expectStays(back);
  });

  test.each(["start", "stop"] as const)(
    "an end of a slur without the other (%s) stays where it is when the lead sheet is dropped",
    (end) => {
      const halved = leadSheet(
        harmony("C") +
          note("C5", 8, {
            after: `<notations>${lineEnd("slur", end)}<articulations><accent/></articulations></notations>`,
          }) +
          note("E5", 8),
      );
      const first = made(parseXml(halved), { lead: "drop" });
      expect(count(first.text, "<slur ")).toBeGreaterThan(0);
      expect(again(first, (root) => root).text).toBe(first.text);
    },
  );

  test("and what a player adds stays when the lead sheet's go", () => {
    const changes = inTurn(
      inPart(
        "P1",
        inMeasures((measure) => withElements(measure, (child) => withoutChildrenNamed(child, "notations"))),
      ),
      changeNote(["P2", 2, 1, "A4"], (one) =>
        withNotations(one, "<articulations><staccato/></articulations>"),
      ),
    );
    const back = again(before, changes);
    expect([count(back.text, "<staccato/>"), count(back.text, "<accent/>")]).toEqual([1, 0]);
  });
});

test("the line of a barre that has lost its name is none of the player's: the score comes back as it was", () => {
  const barred = made(parseXml(readFileSync("sample-scores/slow-bell.musicxml", "utf8")));
  expect(barred.text).toContain('line-type="dashed"');
  const withoutNames: Change = inPart(
    "P2",
    inMeasures((measure) =>
      withElements(measure, (child) =>
        child.name === "direction" &&
        /<words[^>]*>½?C[IVX]+</.test(printXml({ prolog: "", root: child, epilog: "" }))
          ? undefined
          : child,
      ),
    ),
  );
  const after = again(barred, withoutNames);
  expect(after.text).toBe(barred.text);
  expect(again(after, (root) => root).text).toBe(after.text);
});
