import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { arrangeBytes } from "../../src/arrange-bytes.js";
import { checkScore } from "../../src/checking/check-score.js";
import { Findings, ScoreError, textOfFinding } from "../../src/diagnostics.js";
import { completeOptions } from "../../src/options/option-checking.js";
import { readScore } from "../../src/read-score.js";
import { printXml } from "../../src/xml/print-xml.js";
import { harmony, leadSheet, note } from "../support/score-text.js";

/** Inputs that broke something once, each minimal, with what it has to get. */
const REFUSED = [
  { file: "05-exit70-long-gap.musicxml", says: /measure 1: error: The bar lasts 100004 quarters/ },
  { file: "11-wrong-crc.mxl", says: /The zip is damaged: "s\.xml"/ },
  { file: "12-two-lines-one-error.musicxml", says: /^error: .*P1 \(A\\nerror: .*31mred\)/ },
  { file: "20-notes-without-time.musicxml", says: /There is no melody/ },
  { file: "17-empty-expected.musicxml", says: /the score has no parts/ },
] as const;

const ARRANGED = [
  { file: "01-kills-service.musicxml", says: [/measure 1, beat 1: .*"1000000000" in <staff-lines>/] },
  { file: "02-hang-fifths.musicxml", says: [/"99999999999999999999" in <fifths>/] },
  { file: "02b-hang-chromatic.musicxml", says: [/"99999999999999999999" in <chromatic>/] },
  { file: "03-hang-ending.musicxml", says: [/in <ending number>, expected whole numbers from 1 to 99/] },
  { file: "04-exit70-root-alter.musicxml", says: [/"1000000000" in <root-alter>/] },
  { file: "06-exit70-dots.musicxml", says: [/1100 dots/] },
  { file: "07-negative-tempo.musicxml", says: [/"-60" in <per-minute>/] },
  { file: "08-note-lost.musicxml", says: [/measure 1, beat 2: .*"G 4\.5"/, /measure 1, beat 3: .*"H 4"/] },
  { file: "09-lead-lost-on-return.musicxml", says: [] },
  { file: "10-dangling-tie.musicxml", says: [/measure 1, beat 1: .*tie begins here/] },
  {
    file: "15-frets-above-capo.musicxml",
    options: { capo: 11 },
    says: [/7 semitones up/, /was moved along/],
  },
  {
    file: "18-false-edit-rests-struck.musicxml",
    options: { texture: "full", notes: "3", rests: "struck" },
    says: [],
  },
  { file: "19-false-symbol-changed.musicxml", says: [/measure 1, beat 5: .*very end of its bar/] },
] as const;

const bytesOf = (file: string) => readFileSync(new URL(file, import.meta.url));

function arranged(bytes: Uint8Array, options: object) {
  const findings = new Findings();
  const result = arrangeBytes(bytes, completeOptions(options), findings, { isCompressed: false });
  return { ...result, said: findings.all.map(textOfFinding) };
}

test.each(REFUSED)("$file is refused in one line", ({ file, says }) => {
  let thrown: unknown;
  try {
    arranged(bytesOf(file), {});
  } catch (error) {
    thrown = error;
  }
  expect(thrown).toBeInstanceOf(ScoreError);
  const text = textOfFinding((thrown as ScoreError).finding);
  expect(text).toMatch(says);
  expect(text).not.toContain("\n");
});

test.each(ARRANGED)(
  "$file is arranged, says so much, and comes back as it was",
  ({ file, says, ...more }) => {
    const options = "options" in more ? more.options : {};
    const first = arranged(bytesOf(file), options);
    for (const pattern of says) expect(first.said.filter((line) => pattern.test(line))).toHaveLength(1);
    expect(first.said).toHaveLength(says.length);
    const read = readScore(first.bytes, new Findings());
    const checked = checkScore(read, completeOptions({}), new Findings());
    expect(checked.findings.filter(({ severity }) => severity === "error").map(textOfFinding)).toEqual([]);
    const again = arranged(first.bytes, {});
    expect(new TextDecoder().decode(again.bytes)).toBe(new TextDecoder().decode(first.bytes));
    // What was moved lies right now, and need not be said again; nothing else is new.
    expect(first.said).toEqual(expect.arrayContaining([...again.said]));
  },
);

test("no fret stands beyond the last one of the neck, capo or not", () => {
  for (const capo of [0, 3, 7, 11]) {
    const { arrangement } = arranged(bytesOf("15-frets-above-capo.musicxml"), { capo });
    const frets = [...arrangement.melody, ...arrangement.supports].map((note) => note?.fret ?? 0);
    expect(Math.max(...frets) + capo).toBeLessThanOrEqual(24);
  }
});

test("TAB alone beside a lead sheet that sounds the same comes back as it was, and the lead sheet stays", () => {
  const N = '<harmony><root><root-step text="">C</root-step></root><kind text="N.C.">none</kind></harmony>';
  const alone = leadSheet(N + note("C5", 8) + note("E5", 8), note("G5", 16));
  const first = arranged(new TextEncoder().encode(alone), { staves: "tab" });
  const again = arranged(first.bytes, {});
  const text = new TextDecoder().decode(again.bytes);
  expect(text).toBe(new TextDecoder().decode(first.bytes));
  expect(text).toContain('<part id="P1">');
  expect(again.said).toEqual(first.said);
});

test("a lead sheet without a key signature that moves along says which key it is in, and comes back as it was", () => {
  const plain = leadSheet(harmony("C") + note("C5", 8) + note("B4", 8), note("G4", 16));
  for (const key of ["D", "Eb", "A", "F#"]) {
    const first = arranged(new TextEncoder().encode(plain), { key });
    const again = arranged(first.bytes, {});
    expect(new TextDecoder().decode(again.bytes), key).toBe(new TextDecoder().decode(first.bytes));
  }
});

test("a beam that ended on a note that cannot be read is no beam that never ends", () => {
  const eighth = (name: string, beam: string) => note(name, 2, { after: `<beam number="1">${beam}</beam>` });
  const broken = eighth("D5", "end").replace("<step>D", "<step>quarter");
  const sheet = leadSheet(harmony("C") + eighth("C5", "begin") + broken + note("E5", 4) + note("C5", 8));
  const { document } = arranged(new TextEncoder().encode(sheet), { lead: "drop" });
  expect(printXml(document)).not.toContain("<beam");
});

test("two chord symbols on one note too short to hold both come back as they were where the lead sheet is dropped", () => {
  const short = [note("C5", 4), note("D5", 4), note("E5", 8)].join("");
  const sheet = leadSheet(harmony("C") + harmony("F") + short, harmony("G", "dominant") + note("G4", 16));
  const first = arranged(new TextEncoder().encode(sheet), { lead: "drop" });
  expect(first.said).toEqual([expect.stringContaining("there is no room to spread them")]);
  const again = arranged(first.bytes, {});
  expect(new TextDecoder().decode(again.bytes)).toBe(new TextDecoder().decode(first.bytes));
});
