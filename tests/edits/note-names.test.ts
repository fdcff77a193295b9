import { describe, expect, test, vi } from "vitest";
import { pitchText } from "../../src/song/pitch.js";
import { parseXml } from "../../src/xml/parse-xml.js";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";
import { again, type Made, made } from "./edited.js";
import { deleteNote } from "./score-changes.js";

vi.mock("../../src/arranging/costs/cost-table.js", async (original) =>
  (await import("./plain-costs.js")).withPlainCosts(original),
);

/** A chord to be left alone, and one to be changed. */
const madeOver = (symbol: string, melody: string): Made =>
  made(
    parseXml(
      leadSheetFromText(`title: Left As It Was
key: 0 major
time: 4/4
tempo: 60

[${symbol}] ${melody}/1 | [C] G4/1 ||`),
    ),
  );

const namesIn = ({ arrangement }: Made): readonly string[] =>
  arrangement.supports.filter(({ onset }) => onset === 0).map(({ pitch }) => pitchText(pitch));

/** "2/5 b3": every place of the first moment and of its other ways, with the degree that it is said to be. */
const degreesByPlace = ({ report }: Made): readonly string[] => {
  const ways = report.events.slice(0, 1).flatMap((event) => [event, ...event.alternatives]);
  const said = ways.flatMap(({ notes, degrees }) =>
    notes.map(({ string, fret }, at) => `${string}/${fret} ${degrees[at]}`),
  );
  return [...new Set(said)].sort();
};

/** A player takes the lowest note from the second measure. */
function withoutLastBass(before: Made): Made {
  const [, place = ""] =
    /^2:1 \S+ \d+ (\d+\/\d+)/.exec(before.attacks.find((one) => one.startsWith("2:1 ")) ?? "") ?? [];
  return again(before, deleteNote(["P3", 2, 1, place]));
}

describe("a note that is left alone keeps its name and its degree while another is changed", () => {
  test.each([
    ["the seventh that a diminished triad was given", "Edim", "G5", "Db", "bb7"],
    ["that seventh where its symbol writes it as the bass", "Edim/C#", "G5", "C#", "bb7"],
    ["the sixth for a major seventh where it is the bass", "Emaj7/Db", "E5", "Db", "bass"],
    ["the eleventh of a minor seventh chord where it is the bass", "Ebm7/G#", "Gb5", "G#", "bass"],
    ["a sixth that stands for a major seventh", "Emaj7", "E5", "C#", "6"],
  ])("%s: %s under %s", (_, symbol, melody, name, degree) => {
    const before = madeOver(symbol, melody);
    const names = namesIn(before);
    expect(names.map((one) => one.replace(/\d/, ""))).toContain(name);
    const { degrees = [] } = before.report.events[0] ?? {};
    expect(degrees).toContain(degree);
    const places = degreesByPlace(before).map((said) => said.split(" ")[0]);
    expect(places).toEqual([...new Set(places)]);
    const after = withoutLastBass(before);
    expect(after.said).toContain("edit-kept 2:1");
    expect(namesIn(after)).toEqual(names);
    expect(after.report.events[0]?.degrees).toEqual(degrees);
    expect(again(after, (root) => root).text).toBe(after.text);
  });
});
