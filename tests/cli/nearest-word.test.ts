import { expect, test } from "vitest";
import { nearestWord } from "../../src/cli/nearest-word.js";
import { runInMemory } from "../support/outside-in-memory.js";

const WORDS = ["arrange", "check", "keys", "mend", "scale-length"];

test.each([
  ["arrnge", "arrange"],
  ["chekc", "check"],
  ["key", "keys"],
  ["mned", "mend"],
  ["scale-lenght", "scale-length"],
  ["scale", "scale-length"],
  ["zebra", undefined],
  ["xy", undefined],
])("%j is meant for %j", (typed, meant) => {
  expect(nearestWord(typed, WORDS)).toBe(meant);
});

test.each([
  [["arrnge", "a.musicxml"], 'there is no command "arrnge"; did you mean "arrange"?'],
  [["arrange", "a.musicxml", "--fret", "9"], "Unknown option '--fret'; did you mean \"--frets\"?"],
  [["--hlep"], 'there is no command "--hlep"; did you mean "--help"?'],
  [["arrange", ""], "a file or folder was named with an empty text"],
  [["arrange", "a.musicxml", "-o", ""], "--output was given an empty text"],
  [["arrange", "a.musicxml", "-o"], "--output needs a value after it"],
  [["arrange", "a.musicxml", "--key"], "--key needs a value after it"],
  [
    ["a.musicxml"],
    'there is no command "a.musicxml"; to have a score arranged: undervoice arrange a.musicxml',
  ],
  [
    ["arrange", "a.musicxml", "b.mxl"],
    "arrange takes one input file, and there are 2; the command batch takes several",
  ],
  [["zebra"], 'there is no command "zebra"; there are arrange, batch, check'],
])("the command line says what %j was meant for, or what would do", async (words, said) => {
  const ran = await runInMemory(words);
  expect(ran.status).toBe(2);
  expect(ran.errors).toContain(`undervoice: error: ${said}`);
});

test.each(["--version", "-V", "-v", "version"])("%s says the version", async (word) => {
  expect((await runInMemory([word])).output).toMatch(/^\d+\.\d+\.\d+\n$/);
});

test.each(["arrange", "check", "keys", "sheet"])(
  "%s says of an option that cannot be so that the program itself refuses it, not the score",
  async (command) => {
    const ran = await runInMemory([command, "a.musicxml", "--frets", "99"], { "a.musicxml": "<score/>" });
    expect(ran.status).toBe(2);
    expect(ran.errors).toMatch(
      /^undervoice: error: The option frets cannot be 99; it takes .* from 5 to 24\.\n$/,
    );
  },
);
