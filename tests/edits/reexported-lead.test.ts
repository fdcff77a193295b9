import { describe, expect, test, vi } from "vitest";
import { parseXml } from "../../src/xml/parse-xml.js";
import { printXml } from "../../src/xml/print-xml.js";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";
import { runInMemory } from "../support/outside-in-memory.js";
import { changed, madeFrom } from "./edited.js";
import { changeNote, withoutPart, withPitch } from "./score-changes.js";

vi.mock("../../src/arranging/costs/cost-table.js", async (original) =>
  (await import("./plain-costs.js")).withPlainCosts(original),
);

const written = madeFrom({});
/** The support C4 at measure 6 was made a D4 by the player: the seventh fret of the third string. */
const edited = printXml(changed(written, changeNote(["P2", 6, 1, "C4"], withPitch("D4"))));
const leadAlone = printXml(changed(written, (root) => withoutPart("P2")(withoutPart("P3")(root)))).replace(
  /<miscellaneous>[\s\S]*?<\/miscellaneous>/,
  "",
);

const arranged = async (lead: string, there: string, ...words: readonly string[]) => {
  const ran = await runInMemory(["arrange", "tune.musicxml", "-o", "guitar.musicxml", ...words], {
    "tune.musicxml": lead,
    "guitar.musicxml": there,
  });
  expect(ran.status, ran.errors).toBe(0);
  return { text: new TextDecoder().decode(ran.files.get("guitar.musicxml")), said: ran.errors };
};
const SAID =
  "tune.musicxml: note: The guitar score that this one replaces has been edited since it was written";

describe("A lead sheet exported again over an edited guitar score", () => {
  test("keeps what the player changed, and says so", async () => {
    const { text, said } = await arranged(leadAlone, edited);
    expect(said).toContain(SAID);
    expect(said).toMatch(/measure 6 .*: Kept as it came: .*string 3 fret 7.* in place of/);
    const back = changed({ ...written, text: edited }, (root) => root);
    const fresh = await runInMemory(["arrange", "a.musicxml", "-o", "b.musicxml"], {
      "a.musicxml": printXml(back),
    });
    const guitarOf = (xml: string) => xml.slice(xml.indexOf('<part id="P2"')).replace(/\s+/g, "");
    expect(guitarOf(text)).toBe(guitarOf(new TextDecoder().decode(fresh.files.get("b.musicxml"))));
  });

  test("keeps a mark that the player put on it, where that is all", async () => {
    const accented = written.text.replace(
      /(<part id="P2">[\s\S]*?<fingering[^>]*>\d<\/fingering>\s*<\/technical>)/,
      "$1<articulations><accent/></articulations>",
    );
    const { text, said } = await arranged(leadAlone, accented);
    expect(said).toContain(SAID);
    expect(text.match(/<accent\/>/g)).toHaveLength(1);
  });

  test("arranges anew only where the tune is another one now", async () => {
    const tune = parseXml(leadAlone);
    const other = printXml(tune).replace("<step>E</step>", "<step>F</step>");
    const { text, said } = await arranged(other, edited);
    expect(said).toContain(SAID);
    expect(said).toMatch(/measure 6 .*: Kept as it came: .*string 3 fret 7.* in place of/);
    expect(said).toMatch(/measure 2 .*: The tune changed here/);
    expect(text).toContain("<step>F</step>");
  });

  test("arranges afresh where nothing was edited, where that is asked for, and over another score", async () => {
    const plain = await arranged(leadAlone, written.text);
    expect(plain.said).not.toContain("has been edited");
    expect((await arranged(leadAlone, edited, "--edits", "discard")).said).not.toContain("has been edited");
    expect((await arranged(leadAlone, leadSheetFromText("title: Other\n\n[C] C5/1"))).said).not.toContain(
      "has been edited",
    );
    expect((await arranged(leadAlone, "no score at all")).said).not.toContain("has been edited");
  });
});
