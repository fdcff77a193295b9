import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, expect, test } from "vitest";
import { answerOrder } from "../../src/work/answer-order.js";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";
import { arrangerInTest, type WatchInTest, watchInTest } from "./watch-in-test.js";

const LEAD = leadSheetFromText(
  "title: The Third Stair Creaks\nkey: 0 major\ntime: 4/4\n\n[C] E5/2 D5/2 | [F] C5/1 | [G7] B4/1 | [C] C5/1 | [F] A4/1 | [G7] G4/1 | [C] C5/1 ||\n",
);
/** The same tune but for its last note. */
const LEAD_AGAIN = LEAD.replace(/<step>C<\/step>(?![\s\S]*<step>C<\/step>)/, "<step>G</step>");

let watch: WatchInTest | undefined;
afterEach(async () => {
  await watch?.close();
  watch?.remove();
});

const times = (kind: string) => watch?.about("tune.musicxml").filter((one) => one === kind).length ?? 0;
const output = () => join(watch?.outFolder ?? "", "tune-guitar.musicxml");
const exported = (xml: string) => writeFileSync(join(watch?.inFolder ?? "", "tune.musicxml"), xml);

/** Takes a note out of the second chord of the notation, as a player does who leaves it out. */
function edit(): void {
  const written = readFileSync(output(), "utf8");
  const measure = written.indexOf('<measure number="2"', written.indexOf('<part id="P2"'));
  const at = written.indexOf("<note", written.indexOf("<note", measure) + 1);
  const end = written.indexOf("</note>", at) + "</note>".length;
  expect(written.slice(at, end)).toContain("<chord/>");
  writeFileSync(output(), written.slice(0, at) + written.slice(end));
}

/** Notes under others, in measure 2 of the guitar's notation. */
const chordNotes = () =>
  /<part id="P2">[\s\S]*?<measure number="2"[\s\S]*?<\/measure>/
    .exec(readFileSync(output(), "utf8"))?.[0]
    .split('<measure number="2"')[1]
    ?.match(/<chord\/>/g)?.length ?? 0;

test("a lead sheet exported again keeps what was edited in its guitar score, in a watch as on the command line", async () => {
  watch = await watchInTest({
    arranger: { ...arrangerInTest(), arrange: async (order) => answerOrder(order) },
  });
  exported(LEAD);
  await watch.until(() => times("arranged") === 1);
  const written = chordNotes();
  edit();
  exported(LEAD_AGAIN);
  await watch.until(() => times("arranged") === 2);
  expect(chordNotes()).toBe(written - 1);
  const said = watch.events.flatMap((event) => (event.kind === "arranged" ? event.findings : []));
  expect(said.map(({ rule }) => rule)).toEqual(expect.arrayContaining(["guitar-beside-kept", "edit-kept"]));
  expect(times("noted")).toBe(0);
});
