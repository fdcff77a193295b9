import { parseMidi } from "midi-file";
import { describe, expect, test } from "vitest";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";
import { runInMemory } from "../support/outside-in-memory.js";
import { bring, fileFrom, pageInTest, settled, whyNoPage } from "./page-in-browser.js";

const TUNE = leadSheetFromText(
  "title: Nine Stairs\nkey: -1 major\ntime: 4/4\ntempo: 96\n\n[Fmaj7] A4/4 C5/4 A4/2 | [Gm7] Bb4/2 D5/2 | [C7] E5/4 D5/4 C5/4 Bb4/4 | [F6] A4/1 ||\n",
);

describe.skipIf(whyNoPage !== undefined)("the page in a browser", async () => {
  const tried = await pageInTest();

  test("a lead sheet that is brought is engraved, arranged and taken away as the command line writes it", async () => {
    const { page, messages, requests } = await tried.open();
    await bring(page, "stairs.musicxml", TUNE);
    await settled(page);
    expect(await page.locator("h1").textContent()).toBe("Nine Stairs");
    expect(await page.locator("#summary").textContent()).toContain("F major");
    expect(await page.locator(".engraving g.measure").count()).toBe(4);
    const taken = await fileFrom(page, "Take it away", "MusicXML");
    const ran = await runInMemory(["arrange", "stairs.musicxml", "-o", "out.musicxml"], {
      "stairs.musicxml": TUNE,
    });
    expect(taken.toString()).toBe(Buffer.from(ran.files.get("out.musicxml") ?? []).toString());
    expect(messages).toEqual([]);
    expect(requests.filter((url) => !url.startsWith(tried.address) && !url.startsWith("blob:"))).toEqual([]);
    await page.close();
  });

  test("another way is chosen and taken back, and the wishes do on the command line what they did here", async () => {
    const { page, messages } = await tried.open();
    await bring(page, "stairs.musicxml", TUNE);
    await settled(page);
    const walker = page.getByRole("slider", { name: "Moment" });
    await walker.press("PageDown");
    expect(await walker.getAttribute("aria-valuetext")).toContain("measure 2, beat 1: G minor seventh");
    const facts = page.locator(".facts");
    const before = await facts.textContent();
    await page.locator(".take").first().click();
    await settled(page);
    const chosen = await facts.textContent();
    expect(chosen).not.toBe(before);
    const wishes = await fileFrom(page, "Take it away", "Wishes");
    const score = await fileFrom(page, "Take it away", "MusicXML");
    const ran = await runInMemory(
      ["arrange", "stairs.musicxml", "-o", "out.musicxml", "--wishes", "w.json"],
      {
        "stairs.musicxml": TUNE,
        "w.json": wishes,
      },
    );
    expect(ran.status, ran.errors).toBe(0);
    expect(score.toString()).toBe(Buffer.from(ran.files.get("out.musicxml") ?? []).toString());
    expect(await page.locator(".rail").textContent()).toContain("Before your choice");
    await page.getByRole("button", { name: "Undo" }).click();
    await settled(page);
    expect(await facts.textContent()).toBe(before);
    await bring(page, "wishes.json", wishes);
    await settled(page);
    expect(await facts.textContent()).toBe(chosen);
    expect(messages).toEqual([]);
    await page.close();
  });

  test("what is heard shows its place in score and path, and stops when it is told to", async () => {
    const { page, messages } = await tried.open();
    await bring(page, "stairs.musicxml", TUNE);
    await settled(page);
    const play = page.locator(".play");
    await play.click();
    await page.locator(".path-strip .cursor.playing").first().waitFor();
    expect(await play.textContent()).toBe("Stop playing");
    await play.click();
    expect(await play.textContent()).toBe("Play");
    expect(await page.locator(".cursor.playing").count()).toBe(0);
    await page.getByRole("button", { name: "Hear", exact: true }).click();
    expect(messages).toEqual([]);
    await page.close();
  });

  test("a bass is put under the tune, and the right hand for it is said at each moment", async () => {
    const { page, messages } = await tried.open();
    await bring(page, "stairs.musicxml", TUNE);
    await settled(page);
    await page.getByRole("button", { name: "Key and texture" }).click();
    await page.getByLabel("Bass under the tune").selectOption("roots");
    await settled(page);
    await page.getByLabel("Right hand").selectOption("fingers");
    await settled(page);
    await page.getByRole("slider", { name: "Moment" }).press("Home");
    expect(await page.locator(".facts").textContent()).toMatch(/Right hand *p( [ima])+/);
    const taken = await fileFrom(page, "Take it away", "MusicXML");
    const words = ["arrange", "stairs.musicxml", "-o", "out.musicxml", "--bass", "roots"];
    const ran = await runInMemory([...words, "--right-hand", "fingers"], { "stairs.musicxml": TUNE });
    expect(taken.toString()).toBe(Buffer.from(ran.files.get("out.musicxml") ?? []).toString());
    expect(messages).toEqual([]);
    await page.close();
  });

  test("the keys are compared, and a click moves the tune to one of them", async () => {
    const { page, messages } = await tried.open();
    await bring(page, "stairs.musicxml", TUNE);
    await settled(page);
    await page.getByRole("button", { name: "Key and texture" }).click();
    await page.getByRole("button", { name: "Compare the keys" }).click();
    await page.locator(".key-take:enabled", { hasText: /^\s*G major/ }).click({ timeout: 60_000 });
    await settled(page);
    expect(await page.locator("#summary").textContent()).toContain("In G major (from F major)");
    await page.getByRole("radio", { name: "Full" }).check();
    await settled(page);
    const taken = await fileFrom(page, "Take it away", "MusicXML");
    const words = ["arrange", "stairs.musicxml", "-o", "out.musicxml", "--key", "G", "--texture", "full"];
    const ran = await runInMemory(words, { "stairs.musicxml": TUNE });
    expect(taken.toString()).toBe(Buffer.from(ran.files.get("out.musicxml") ?? []).toString());
    expect(messages).toEqual([]);
    await page.close();
  });

  test("the other forms are what they are called: compressed, MIDI, report, sheet", async () => {
    const { page } = await tried.open();
    await bring(page, "stairs.musicxml", TUNE);
    await settled(page);
    const mxl = await fileFrom(page, "Take it away", "MusicXML, compressed");
    expect(mxl.subarray(0, 2).toString()).toBe("PK");
    const { tracks } = parseMidi(await fileFrom(page, "Take it away", "MIDI"));
    const struck = tracks.map((track) => track.filter(({ type }) => type === "noteOn").length);
    const report = JSON.parse((await fileFrom(page, "Take it away", "Report (JSON)")).toString());
    expect(struck[1]).toBe(report.melody.notes);
    expect(struck[2]).toBeGreaterThan(0);
    const ran = await runInMemory(["arrange", "stairs.musicxml", "-o", "o.musicxml", "--json"], {
      "stairs.musicxml": TUNE,
    });
    expect(report).toEqual(JSON.parse(ran.output));
    const sheet = await fileFrom(page, "Take it away", "Steps and shapes to learn");
    const written = await runInMemory(["sheet", "stairs.musicxml", "-o", "s.html"], {
      "stairs.musicxml": TUNE,
    });
    expect(sheet.toString()).toBe(Buffer.from(written.files.get("s.html") ?? []).toString());
    await page.close();
  });

  test("a score that cannot be arranged is engraved all the same, and nothing of the score before is left", async () => {
    const { page } = await tried.open();
    await bring(page, "stairs.musicxml", TUNE);
    await settled(page);
    await bring(page, "bare.musicxml", TUNE.replace(/<harmony[\s\S]*?<\/harmony>/g, ""));
    const said = await page.getByRole("alert").first().textContent();
    expect(said).toContain("no chord");
    await page.locator(".engraving").first().waitFor();
    expect(await page.locator("#summary").textContent()).toBe("");
    expect(await page.locator(".path-strip").count()).toBe(0);
    expect(await page.locator(".bench").isVisible()).toBe(false);
    expect(await page.getByRole("button", { name: "Key and texture" }).isVisible()).toBe(true);
    await page.close();
  });

  test("what is no score is refused in the words of the command line", async () => {
    const { page } = await tried.open();
    await bring(page, "broken.musicxml", "<score-partwise><part>");
    const said = await page.getByRole("alert").first().textContent();
    const ran = await runInMemory(["arrange", "broken.musicxml"], {
      "broken.musicxml": "<score-partwise><part>",
    });
    expect(ran.errors).toContain(said?.replace(/^.*?error: /, ""));
    await page.close();
  });
});
