import { describe, expect, test, vi } from "vitest";
import { arrangeScore } from "../../src/arrange-score.js";
import { Findings } from "../../src/diagnostics.js";
import { completeOptions } from "../../src/options/option-checking.js";
import { OPTIONS, OPTIONS_FOR, type OptionName } from "../../src/options/options.js";
import { parseXml } from "../../src/xml/parse-xml.js";
import {
  childNamed,
  childText,
  element,
  elementsOf,
  withChildren,
  withElements,
} from "../../src/xml/xml-tree.js";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";
import { again, changed, type Made, made, madeFrom } from "./edited.js";
import {
  type Change,
  changeHarmony,
  changeNote,
  inEveryPart,
  inMeasures,
  inPart,
  inTurn,
  withoutField,
  withPitch,
  withPlace,
} from "./score-changes.js";

vi.mock("../../src/arranging/costs/cost-table.js", async (original) =>
  (await import("./plain-costs.js")).withPlainCosts(original),
);

const written: Made = madeFrom({});
const dropped: Made = madeFrom({ lead: "drop" });

/** An edit in measure 6, far from what the tune changes. */
const edit = changeNote(["P2", 6, 1, "C4"], withPitch("D4"));
const editGone = ["6:1 2 60 3/5-1"];
const editCome = ["6:1 2 62 3/7-3"];

const measureOf = (attack: string): number => Number.parseInt(attack, 10);
const outside = (attacks: readonly string[], ...measures: readonly number[]) =>
  attacks.filter((attack) => !measures.includes(measureOf(attack)));

/** What came and went beside the measures that the tune changes is the edit and nothing else. */
function expectOnlyTheEditBeside(back: ReturnType<typeof again>, ...measures: readonly number[]): void {
  expect(outside(back.gone, ...measures)).toEqual(editGone);
  expect(outside(back.come, ...measures)).toEqual(editCome);
  expect(back.said).toContain("edit-kept 6:1");
  const third = again(back, (root) => root);
  expect(third.text).toBe(back.text);
  expect(third.said).toEqual([]);
}

const without = (measure: number): Change =>
  inEveryPart(inMeasures((one, index) => (index + 1 === measure ? undefined : one)));

/** The same measure once more, right behind itself. */
const twice = (measure: number): Change =>
  inEveryPart((part) => ({
    ...part,
    children: part.children.flatMap((child, _, all) => {
      const measures = all.filter((one) => one.kind === "element" && one.name === "measure");
      return child === measures[measure - 1] ? [child, child] : [child];
    }),
  }));

describe("what the tune changes is arranged anew, an edit elsewhere stays, the rest does not move", () => {
  test("a melody note changed", () => {
    const back = again(written, inTurn(edit, changeNote(["P1", 7, 3, "C5"], withPitch("E5"))));
    expectOnlyTheEditBeside(back, 7);
    expect(back.said).toContain("arranged-anew 7");
    expect(back.come.some((attack) => /^7:3 2 76 /.test(attack))).toBe(true);
  });

  test("a melody note changed in a score whose mark was lost", () => {
    const back = again(written, inTurn(edit, withoutField, changeNote(["P1", 7, 3, "C5"], withPitch("E5"))));
    expectOnlyTheEditBeside(back, 7);
    expect(back.said).toContain("edit-off-melody 7:3");
  });

  test("a melody note made a rest", () => {
    const silent: Change = changeNote(["P1", 3, 4, "G4"], (note) =>
      withElements(note, (child) => (child.name === "pitch" ? element("rest") : child)),
    );
    const back = again(written, inTurn(edit, silent));
    expectOnlyTheEditBeside(back, 3);
    expect(back.said).toContain("edit-left-out 3:4");
    expect(back.attacks.some((attack) => attack.startsWith("3:4"))).toBe(false);
  });

  test("a melody note divided in two", () => {
    const divided: Change = changeNote(["P1", 2, 1, "E5"], (note) =>
      withElements(note, (child) =>
        child.name === "duration"
          ? element("duration", {}, [Number(childText(note, "duration")) / 2])
          : child.name === "type"
            ? element("type", {}, ["quarter"])
            : child,
      ),
    );
    const more: Change = (root) =>
      withElements(root, (part) =>
        part.attributes.get("id") !== "P1" || part.name !== "part"
          ? part
          : inMeasures((measure, index) =>
              index !== 1
                ? measure
                : withChildren(
                    measure,
                    measure.children.flatMap((child) =>
                      child.kind === "element" &&
                      childNamed(child, "pitch")?.children.length === 2 &&
                      childText(childNamed(child, "pitch") ?? child, "step") === "E"
                        ? [child, child]
                        : [child],
                    ),
                  ),
            )(part),
      );
    const back = again(written, inTurn(edit, divided, more));
    expectOnlyTheEditBeside(back, 2);
    expect(back.attacks.filter((attack) => / 76 1\//.test(attack)).length).toBe(2);
  });

  test("a chord symbol changed", () => {
    const back = again(written, inTurn(edit, changeHarmony("P1", 3, 0, "F", "major")));
    expectOnlyTheEditBeside(back, 3);
    expect(back.said).toContain("arranged-anew 3");
  });

  test("a chord symbol changed in a score whose mark was lost", () => {
    const back = again(written, inTurn(edit, withoutField, changeHarmony("P1", 3, 0, "F", "major")));
    expectOnlyTheEditBeside(back, 3);
    expect(back.said).toContain("arranged-anew 3");
  });

  test("a chord symbol spelled another way is no change", () => {
    const respelled = changeHarmony("P1", 2, 0, "C", "major");
    const back = again(written, inTurn(edit, respelled));
    expectOnlyTheEditBeside(back);
    expect(back.said).toEqual(["edit-kept 6:1"]);
  });

  test("a chord symbol changed where the lead sheet was dropped", () => {
    const back = again(
      dropped,
      inTurn(changeNote(["P1", 6, 1, "C4"], withPitch("D4")), changeHarmony("P1", 3, 0, "F", "major")),
    );
    expectOnlyTheEditBeside(back, 3);
    expect(back.said).toContain("arranged-anew 3");
  });

  test("a melody note changed where the lead sheet was dropped", () => {
    const back = again(
      dropped,
      inTurn(
        changeNote(["P1", 6, 1, "C4"], withPitch("D4")),
        changeNote(["P1", 7, 3, "C5"], withPitch("E5")),
      ),
    );
    expectOnlyTheEditBeside(back, 7);
    expect(back.said).toContain("arranged-anew 7");
    expect(back.come.some((attack) => /^7:3 2 76 /.test(attack))).toBe(true);
  });
});

describe("bars put in and taken out", () => {
  test.each([
    ["in the middle", 3],
    ["the last one", 7],
  ])("a bar made shorter than the guitar's leaves out what stood in its rest: %s", (_, measure) => {
    const shortened = inPart(
      "P1",
      inMeasures((one, index) => {
        const notes = elementsOf(one).filter(({ name }) => name === "note");
        const second = notes.slice(1).concat(
          elementsOf(one)
            .filter(({ name }) => name === "harmony")
            .slice(1),
        );
        return index + 1 !== measure
          ? one
          : withElements(one, (child) => (second.includes(child) ? undefined : child));
      }),
    );
    const back = again(written, shortened);
    const inBar = back.attacks.filter((attack) => measureOf(attack) === measure);
    expect(inBar.every((attack) => Number(/:(\S+)/.exec(attack)?.[1]) < 3)).toBe(true);
    expect(inBar.every((attack) => Number(attack.split(" ")[1]) > 0)).toBe(true);
    expect(back.said).toContain(`edit-left-out ${measure}`);
    expect(again(back, (root) => root).text).toBe(back.text);
  });

  test("a bar taken out takes its grips with it, and an edit behind it moves along", () => {
    const back = again(written, inTurn(edit, without(5)));
    const kept = written.attacks.filter((attack) => measureOf(attack) !== 5);
    const moved = kept.map((attack) =>
      measureOf(attack) > 5 ? attack.replace(/^\d+/, String(measureOf(attack) - 1)) : attack,
    );
    expect(back.attacks).toEqual(
      moved.map((attack) => (attack === "5:1 2 60 3/5-1" ? "5:1 2 62 3/7-3" : attack)).sort(byPitchAt),
    );
    expect(back.said).toEqual(["edit-kept 5:1"]);
  });

  test("a bar put in comes with what stands in it", () => {
    const back = again(written, inTurn(edit, twice(2)));
    const doubled = written.attacks.flatMap((attack) => {
      const measure = measureOf(attack);
      const at = (other: number) => attack.replace(/^\d+/, String(other));
      return measure < 2 ? [attack] : measure === 2 ? [attack, at(3)] : [at(measure + 1)];
    });
    expect(back.attacks).toEqual(
      doubled.map((attack) => (attack === "7:1 2 60 3/5-1" ? "7:1 2 62 3/7-3" : attack)).sort(byPitchAt),
    );
    expect(back.said).toEqual(["edit-kept 7:1"]);
  });

  test("a bar put in with a melody and nothing for the guitar is arranged", () => {
    const empty: Change = (root) =>
      withElements(root, (part) =>
        part.name !== "part" || part.attributes.get("id") === "P1"
          ? part
          : inMeasures((measure, index) =>
              index !== 2
                ? measure
                : withChildren(measure, [
                    element("note", {}, [
                      element("rest", { measure: "yes" }),
                      element("duration", {}, [8]),
                      element("voice", {}, [1]),
                    ]),
                  ]),
            )(part),
      );
    const back = again(written, inTurn(edit, twice(2), empty));
    expect(back.said).toContain("arranged-anew 3");
    expect(back.said).toContain("edit-kept 7:1");
    expect(back.attacks.filter((attack) => measureOf(attack) === 2)).toEqual(
      written.attacks.filter((attack) => measureOf(attack) === 2),
    );
    expect(back.attacks.filter((attack) => measureOf(attack) === 3).length).toBeGreaterThanOrEqual(3);
  });
});

/** By place, then by pitch, the way a score is read. */
function byPitchAt(one: string, other: string): number {
  const at = (attack: string) => attack.split(/[: ]/).map(Number);
  const [bar = 0, beat = 0, , midi = 0] = at(one);
  const [otherBar = 0, otherBeat = 0, , otherMidi = 0] = at(other);
  return bar - otherBar || beat - otherBeat || midi - otherMidi;
}

describe("other options than it was made with", () => {
  test("options left alone are those of the score", () => {
    const lean = madeFrom({ texture: "lean", staves: "joined" });
    expect(again(lean, (root) => root).text).toBe(lean.text);
  });

  const OTHER_VALUES: Readonly<Partial<Record<OptionName, unknown>>> = {
    key: "Eb",
    melody: "top",
    tuning: "DADGAD",
    strings: "1-4",
    tune: 1,
    frets: 12,
    capo: 2,
    scaleLength: 600,
    hand: 1.1,
    reach: 0.9,
    alternatives: 1,
    shift: 300,
    tempo: 80,
  };

  test.each(OPTIONS_FOR.arrange.filter((name) => name !== "edits" && name !== "chords"))(
    "%s once given is that of the score",
    (name) => {
      const row: { readonly enum?: readonly string[]; readonly type: string; readonly default: unknown } =
        OPTIONS[name];
      const value =
        OTHER_VALUES[name] ?? (row.type === "boolean" ? true : row.enum?.find((one) => one !== row.default));
      expect(value).not.toBe(row.default);
      for (const lead of ["keep", "drop"]) {
        const once = madeFrom({ lead, [name]: value });
        expect(again(once, (root) => root).text, lead).toBe(once.text);
      }
    },
  );

  test.each(["keep", "drop"])(
    "the highest notes asked for of a score with a guitar part (lead: %s) are its tune",
    (lead) => {
      const once = again(madeFrom({ lead }), (root) => root, { melody: "top" });
      expect(once.attacks).toEqual(written.attacks);
      expect(again(once, (root) => root).text).toBe(once.text);
    },
  );

  test("another texture is arranged around the edits alone", () => {
    const back = again(written, edit, { texture: "full" });
    expect(back.said).toContain("edit-kept 6:1");
    expect(back.come).toEqual(expect.arrayContaining(editCome));
    const plain = madeFrom({ texture: "full" });
    const beside = (attacks: readonly string[]) => outside(attacks, 5, 6, 7);
    expect(beside(back.attacks)).toEqual(beside(plain.attacks));
  });

  test.each([5, 7, 9, 12])("up to fret %i it is arranged as a fresh score is", (frets) => {
    const back = again(written, (root) => root, { frets });
    expect(back.attacks).toEqual(madeFrom({ frets }).attacks);
  });

  test("what a player put beyond the frets asked for now is not kept, and that is said", () => {
    const fret = (attack: string) => Number(/\/(\d+)-/.exec(attack)?.[1] ?? 0);
    const high = again(written, edit, {});
    const top = Math.max(...high.attacks.map(fret));
    const back = again(high, (root) => root, { frets: Math.max(5, top - 1) });
    expect(Math.max(...back.attacks.map(fret))).toBeLessThan(top);
  });

  const WIDE = leadSheetFromText(`title: Ladder in the Loft
key: 0 major
time: 4/4
tempo: 100

[C] E3/2 G3/4 C4/4 | [F] A4/2 C5/4 F5/4 | [G7] G5/2 F5/4 B4/4 | [C] C5/2 E4/4 C3/4 ||`);

  test.each([
    { bass: "walking" },
    { bass: "roots" },
    { texture: "full" },
    { notes: "3" },
    { rests: "struck" },
  ])("a tune too wide for its strings goes where it went, as it is asked for now: %o", (options) => {
    const back = again(made(parseXml(WIDE)), (root) => root, options);
    expect(back.attacks).toEqual(made(parseXml(WIDE), options).attacks);
    expect(back.said).toContain("melody-on-more-of-the-neck 1:1");
    expect(again(back, (root) => root).text).toBe(back.text);
  });

  test("another key keeps nothing, and says so", () => {
    const back = again(written, edit, { key: "G" });
    expect(back.said).toEqual(["edits-not-kept", "lead-moved"]);
    expect(back.attacks).toEqual(madeFrom({ key: "G" }).attacks);
  });

  test("edits discarded: arranged afresh with the options given", () => {
    const back = again(written, edit, { edits: "discard" });
    expect(back.text).toBe(written.text);
    expect(back.said).toEqual([]);
  });

  test.each([{}, { staves: "joined" }, { staves: "tab" }])(
    "edits discarded and another key asked for: the lead sheet beside the guitar (%o) moves along",
    (options) => {
      const back = again(madeFrom(options), (root) => root, { edits: "discard", key: "G", ...options });
      expect(back.text).toBe(madeFrom({ key: "G", ...options }).text);
      expect(back.said).toEqual(["lead-moved"]);
    },
  );

  test("a score whose mark was lost is kept although the options given would arrange it otherwise", () => {
    const full = madeFrom({ texture: "full" });
    const back = again(full, withoutField);
    expect(back.attacks).toEqual(full.attacks);
    expect(back.said).toContain("guitar-part-recognised");
  });
});

test("where the hand cannot get to an edit in time, the moments beside it move and that is said", () => {
  const quick = made(
    parseXml(
      leadSheetFromText(`title: Stairs
key: 0 major
time: 4/4
tempo: 120

G4/4 A4/4 G4/4 A4/4 | G4/4 A4/4 G4/4 A4/4 | G4/4 A4/4 G4/4 A4/4 | [C] G4/1 ||`),
    ),
    { texture: "lean" },
  );
  const back = again(quick, changeNote(["P3", 2, 1, "1/3"], withPlace(3, 12)));
  expect(back.said).toEqual(["edit-kept 2:1", "edit-out-of-reach 1:4"]);
  expect(back.come).toEqual(["1:4 1 69 2/10-4", "2:1 1 67 3/12-1", "2:2 1 69 2/10-4"]);
  expect(back.gone.map((attack) => attack.slice(0, 3))).toEqual(["1:4", "2:1", "2:2"]);
});

test("a wish given beside a score that came back counts at its moment, and the rest stays with its edits", () => {
  const document = changed(written, edit);
  const wishes = { wishes: [{ measure: 2, beat: 4, play: "single" as const }] };
  const arranged = arrangeScore(document, completeOptions({}), new Findings(), wishes);
  const attacks = made(arranged.document).attacks;
  expect(attacks.filter((attack) => attack.startsWith("2:4"))).toHaveLength(1);
  const beside = (all: readonly string[]) => all.filter((attack) => !attack.startsWith("2:4"));
  const expected = written.attacks.map((attack) => (editGone.includes(attack) ? editCome.join() : attack));
  expect([...beside(attacks)].sort()).toEqual([...beside(expected)].sort());
});
