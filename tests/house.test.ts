import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { circles, type Import, imports, roomOf, rooms } from "./support/rooms.js";

const PAGE = fileURLToPath(new URL("../DEVELOPERS.md", import.meta.url));
const [BEGIN, END] = ["<!-- begin rooms -->", "<!-- end rooms -->"];

const all = imports();

describe("the map in DEVELOPERS.md", () => {
  const page = readFileSync(PAGE, "utf8");
  const sentences = new Map(rowsOf(page).map(({ room, sentence }) => [room, sentence]));

  test("says in a sentence what is in each room, and names no room that there is not", () => {
    expect([...sentences.keys()].toSorted()).toEqual(rooms());
    for (const [room, sentence] of sentences) expect(sentence, room).toMatch(/\w{3}/);
  });

  // After a change of imports: npx vitest run tests/house.test.ts --update
  test("says of each room what it imports", async () => {
    const [before] = page.split(BEGIN);
    const [, after] = page.split(END);
    await expect(`${before}${BEGIN}\n\n${mapOf(sentences)}\n\n${END}${after}`).toMatchFileSnapshot(PAGE);
  });
});

/** Rows of the table between the marks. */
function rowsOf(page: string): readonly { readonly room: string; readonly sentence: string }[] {
  const [, table = ""] = (page.split(BEGIN)[1] ?? "").split(END)[0]?.split("| --- | --- | --- |") ?? [];
  return [...table.matchAll(/^\| `([^`]+)\/` \| (.*?) \| .*? \|$/gm)].map(([, room = "", sentence = ""]) => ({
    room,
    sentence,
  }));
}

/** The rooms in the order of the page, new ones last. */
function mapOf(sentences: ReadonlyMap<string, string>): string {
  const there = rooms();
  const order = [...sentences.keys()].filter((room) => there.includes(room));
  const rows = [...new Set([...order, ...there])].map(
    (room) => `| \`${room}/\` | ${sentences.get(room) ?? ""} | ${importedBy(room)} |`,
  );
  return ["| Room | What is in it | What it imports |", "| --- | --- | --- |", ...rows].join("\n");
}

/** Short names: rooms of `src/` and the files that stand in it without their folder. */
function importedBy(room: string): string {
  const others = all.filter(({ from, to }) => roomOf(from) === room && roomOf(to) !== room);
  const names = new Set(others.map(({ to }) => nameOf(to)));
  return names.size === 0 ? "nothing" : [...names].toSorted().join(", ");
}

function nameOf(file: string): string {
  if (file === "src/index.ts") return "the library";
  const name = roomOf(file) === "src" ? file.replace(/\.ts$/, "") : roomOf(file);
  return name.replace(/^src\//, "");
}

/**
 * Rooms that import one another, with the reason why they may. Each was looked at; what is not in the list is
 * not to come about by accident.
 */
const KNOWN_CIRCLES: readonly { readonly rooms: readonly string[]; readonly reason: string }[] = [
  {
    rooms: ["src/musicxml/ensemble", "src/musicxml/lead-sheet"],
    reason:
      "A lead sheet asks the ensemble which line is the tune, and a line of an ensemble is read as a tune's is.",
  },
  {
    rooms: ["src/musicxml/guitar-writing", "src/musicxml/lead-moving"],
    reason:
      "A lead sheet that is moved is written beside the guitar part, and spells its keys, chords and accidentals as that does.",
  },
  {
    rooms: ["src/musicxml/numbers", "src/musicxml/timeline"],
    reason: "Times are numbers of the file, and what was wrong with a number is said by its place in time.",
  },
];

/** Folders whose own files each stand for themselves: they start things, or are what all rooms there know. */
const TOPS = ["src", "src/cli", "server", "server/page"];

const standsFor = (file: string): string => (TOPS.includes(roomOf(file)) ? file : roomOf(file));

test("no two rooms import each other, but for those that are known to", () => {
  const between = all
    .map(({ from, to }): Import => ({ from: standsFor(from), to: standsFor(to) }))
    .filter(({ from, to }) => from !== to);
  const text = (circle: readonly string[]) => circle.toSorted().join(", ");
  expect(circles(between).map(text).toSorted()).toEqual(
    KNOWN_CIRCLES.map((known) => text(known.rooms)).toSorted(),
  );
});

test("no files import each other in a circle, types aside", () => {
  // A type is gone before anything is loaded.
  const loaded = all.filter(({ from, to }) => !isTypeOnly(from, to));
  expect(circles(loaded)).toEqual([]);
});

function isTypeOnly(from: string, to: string): boolean {
  const text = readFileSync(fileURLToPath(new URL(`../${from}`, import.meta.url)), "utf8");
  const [name = ""] = to.split("/").at(-1)?.split(".") ?? [];
  const statements = [...text.matchAll(/\b(?:import|export)\s+([^;]*?)\s*from\s*"([^"]+)"/g)].filter(
    ([, , named = ""]) => named.endsWith(`/${name}.js`),
  );
  return statements.length > 0 && statements.every(([, what = ""]) => isOfTypes(what));
}

const isOfTypes = (what: string): boolean =>
  what.startsWith("type ") ||
  (what.startsWith("{") &&
    what
      .slice(1, -1)
      .split(",")
      .filter((each) => each.trim() !== "")
      .every((each) => each.trim().startsWith("type ")));

test("a circle is found however long it is, and what only hangs on it is not in it", () => {
  const links = (text: string): readonly Import[] =>
    text.split(" ").map((link) => ({ from: link.charAt(0), to: link.charAt(1) }));
  expect(circles(links("ab bc cd"))).toEqual([]);
  expect(circles(links("ab bc ca cd xa"))).toEqual([["a", "b", "c"]]);
  expect(circles(links("ab ba bc cd dc"))).toEqual([
    ["a", "b"],
    ["c", "d"],
  ]);
});
