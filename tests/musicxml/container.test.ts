import { strFromU8, strToU8, unzipSync, zipSync } from "fflate";
import { afterAll, beforeAll, describe, expect, test, vi } from "vitest";
import { ScoreError } from "../../src/diagnostics.js";
import { compressedScore, readScoreText } from "../../src/xml/container.js";
import { FILE_LIMITS } from "../../src/xml/file-limits.js";
import { parseXml } from "../../src/xml/parse-xml.js";

const SCORE = '<score-partwise version="4.0"/>';
const DECOY = "<score-partwise><!-- decoy --></score-partwise>";
const container = (...paths: string[]) =>
  `<container><rootfiles>${paths.map((path) => `<rootfile full-path="${path}"/>`).join("")}</rootfiles></container>`;
const zip = (files: Readonly<Record<string, string>>) =>
  zipSync(Object.fromEntries(Object.entries(files).map(([name, text]) => [name, strToU8(text)])));
const rules = (bytes: Uint8Array) => readScoreText(bytes).warnings.map(({ rule }) => rule);

/** The error that reading ends in; fails where there is none. */
function errorOf(read: () => unknown): ScoreError["finding"] {
  try {
    read();
  } catch (error) {
    if (error instanceof ScoreError) return error.finding;
    throw error;
  }
  throw new Error("no error");
}

// In Node its own zlib is at work, in a browser the package.
describe.each([
  ["as Node reads it", process.getBuiltinModule],
  ["as a browser reads it", () => undefined],
])("A zip, %s,", (_, builtIn) => {
  beforeAll(() => {
    vi.spyOn(process, "getBuiltinModule").mockImplementation(builtIn as typeof process.getBuiltinModule);
  });
  afterAll(() => {
    vi.restoreAllMocks();
  });

  test("gives the first root file of its container, not the first or last file in it", () => {
    const bytes = zip({
      "decoy.xml": DECOY,
      "cover.png": "x",
      "scores/tune.musicxml": SCORE,
      "other.xml": DECOY,
      "META-INF/container.xml": container("scores/tune.musicxml", "other.xml"),
    });
    expect(readScoreText(bytes)).toEqual({ text: SCORE, warnings: [], isCompressed: true });
  });

  test("without a container, or with one that is broken or names nothing there, gives the only score, with a warning", () => {
    for (const broken of [undefined, container("a & b.xml"), container("gone.xml"), "<container/>", ""]) {
      const files = { "tune.xml": SCORE, "__MACOSX/._tune.xml": "x", "notes.txt": "x" };
      const bytes = zip(broken === undefined ? files : { ...files, "META-INF/container.xml": broken });
      expect(readScoreText(bytes).text).toBe(SCORE);
      expect(rules(bytes)).toEqual(["container-broken"]);
    }
  });

  test("with several scores and no container is an error that lists them", () => {
    expect(errorOf(() => readScoreText(zip({ "one.xml": SCORE, "two.xml": SCORE }))).message).toMatch(
      /"one\.xml", "two\.xml"/,
    );
    expect(errorOf(() => readScoreText(zip({ "cover.png": "x" }))).rule).toBe("container-broken");
  });

  test("may have blanks, ampersands, accents and folders in the path", () => {
    const name = "Mes partitions/Été & hiver.musicxml";
    const bytes = zip({ [name]: SCORE, "META-INF/container.xml": container(name.replace("&", "&amp;")) });
    expect(readScoreText(bytes)).toEqual({ text: SCORE, warnings: [], isCompressed: true });
  });

  test.each([
    "../tune.xml",
    "a/../../tune.xml",
    "/tune.xml",
    "C:/tune.xml",
    "a\\tune.xml",
    "\\\\host\\tune.xml",
  ])("may not name its score %s", (path) => {
    const bytes = zip({ "tune.xml": SCORE, [path]: SCORE, "META-INF/container.xml": container(path) });
    expect(errorOf(() => readScoreText(bytes)).rule).toBe("container-path");
  });

  test("cut off anywhere is an error, never half a score", () => {
    const whole = zip({ "META-INF/container.xml": container("tune.xml"), "tune.xml": SCORE.padEnd(5000) });
    for (const length of [3, 30, 100, whole.length - 30]) {
      expect(errorOf(() => readScoreText(whole.subarray(0, length))).rule).toBe("zip-damaged");
    }
  });

  test("with one byte changed anywhere in its score is an error", () => {
    for (const level of [0, 6] as const) {
      const whole = zipSync({ "tune.xml": strToU8(SCORE.padEnd(400, "x y z")) }, { level });
      expect(readScoreText(whole).text).toHaveLength(400);
      const start = strFromU8(whole, true).indexOf("tune.xml") + "tune.xml".length;
      for (let at = start; at < start + 20; at += 1) {
        const bytes = whole.slice();
        bytes[at] = (bytes[at] ?? 0) ^ 1;
        expect(errorOf(() => readScoreText(bytes)).rule).toBe("zip-damaged");
      }
    }
  });

  test("that inflates without end is stopped by what comes out, whatever its header says", () => {
    const bomb = zipSync({ "tune.xml": new Uint8Array(FILE_LIMITS.unzippedBytes + 1_000_000) });
    expect(errorOf(() => readScoreText(bomb)).rule).toBe("too-large");
    const lying = Uint8Array.from(bomb);
    const view = new DataView(lying.buffer);
    // Size fields of the local header and of the directory entry, PKWARE APPNOTE 4.3.7 and 4.3.12.
    view.setUint32(22, 100, true);
    const directory = new TextDecoder("latin1").decode(lying).lastIndexOf("PK\u0001\u0002");
    view.setUint32(directory + 24, 100, true);
    expect(errorOf(() => readScoreText(lying)).rule).toBe("too-large");
  });

  test("that inflates without end beside the score is left alone", () => {
    const bytes = zipSync({
      "huge.bin": new Uint8Array(FILE_LIMITS.unzippedBytes + 1_000_000),
      "tune.xml": strToU8(SCORE),
      "META-INF/container.xml": strToU8(container("tune.xml")),
    });
    expect(readScoreText(bytes).text).toBe(SCORE);
  });

  test("is known by its first bytes, not its name", () => {
    expect(readScoreText(zip({ "tune.xml": SCORE })).isCompressed).toBe(true);
    expect(readScoreText(strToU8(SCORE)).isCompressed).toBe(false);
  });

  test("written by us has the media type first and stored, and reads back", () => {
    const bytes = compressedScore(SCORE, "Été & hiver.musicxml");
    expect(strFromU8(bytes.subarray(30, 38))).toBe("mimetype");
    expect(new DataView(bytes.buffer, bytes.byteOffset).getUint16(8, true)).toBe(0);
    expect(strFromU8(bytes.subarray(38, 38 + 33))).toBe("application/vnd.recordare.musicxml".slice(0, 33));
    expect(Object.keys(unzipSync(bytes))).toEqual([
      "mimetype",
      "META-INF/container.xml",
      "Été & hiver.musicxml",
    ]);
    expect(readScoreText(bytes)).toEqual({ text: SCORE, warnings: [], isCompressed: true });
    expect(compressedScore(SCORE)).toEqual(compressedScore(SCORE));
  });

  test("is read alike whichever of the two packed it", () => {
    const here = compressedScore(SCORE.padEnd(9000, "<!-- ebb and flow -->"));
    const builtInHere = vi.mocked(process.getBuiltinModule).getMockImplementation();
    vi.mocked(process.getBuiltinModule).mockImplementation(() => undefined);
    const there = compressedScore(SCORE.padEnd(9000, "<!-- ebb and flow -->"));
    vi.mocked(process.getBuiltinModule).mockImplementation(builtInHere ?? (() => undefined));
    expect(readScoreText(there)).toEqual(readScoreText(here));
    for (const bytes of [here, there])
      expect(strFromU8(unzipSync(bytes)["score.musicxml"] ?? new Uint8Array(0))).toBe(
        readScoreText(here).text,
      );
  });
});

describe("Bytes of a plain file", () => {
  const utf16 = (text: string, bigEndian: boolean) => {
    const bytes = new Uint8Array(2 * text.length);
    const view = new DataView(bytes.buffer);
    for (let index = 0; index < text.length; index += 1)
      view.setUint16(2 * index, text.charCodeAt(index), !bigEndian);
    return bytes;
  };
  const join = (...pieces: (Uint8Array | number[])[]) =>
    Uint8Array.from(pieces.flatMap((piece) => [...piece]));
  const declared = (encoding: string, inner = "é") =>
    `<?xml version="1.0" encoding="${encoding}"?>\n<a>${inner}</a>`;
  const inUtf8 = declared("UTF-8");

  test("with a UTF-8 byte order mark lose it", () => {
    expect(readScoreText(join([0xef, 0xbb, 0xbf], strToU8(inUtf8)))).toMatchObject({
      text: inUtf8,
      warnings: [],
    });
  });

  test("in UTF-16 are decoded by their mark or their shape and declared anew", () => {
    expect(readScoreText(join([0xff, 0xfe], utf16(declared("UTF-16"), false)))).toMatchObject({
      text: inUtf8,
      warnings: [],
    });
    expect(readScoreText(join([0xfe, 0xff], utf16(declared("UTF-16"), true)))).toMatchObject({
      text: inUtf8,
      warnings: [],
    });
    expect(readScoreText(utf16(declared("UTF-16"), false)).text).toBe(inUtf8);
    expect(readScoreText(utf16(declared("UTF-16"), true)).text).toBe(inUtf8);
  });

  test("whose label cannot be true are read as what they are, with a warning", () => {
    const labelled = strToU8(declared("UTF-16"));
    expect(readScoreText(labelled).text).toBe(inUtf8);
    expect(rules(labelled)).toEqual(["encoding-label"]);
    expect(rules(join([0xef, 0xbb, 0xbf], strToU8(declared("ISO-8859-1"))))).toEqual(["encoding-label"]);
  });

  test("in Latin-1 are decoded where they say so", () => {
    const bytes = join(strToU8(declared("ISO-8859-1", "")).subarray(0, -4), [0xe9], strToU8("</a>"));
    expect(readScoreText(bytes).text).toBe(inUtf8);
  });

  test("in Latin-1 that claims to be UTF-8, or nothing, are read as Latin-1, with a warning", () => {
    for (const head of ['<?xml version="1.0" encoding="UTF-8"?>\n<a>', "<a>"]) {
      const bytes = join(strToU8(`${head}caf`), [0xe9], strToU8("</a>"));
      expect(readScoreText(bytes).text).toContain("café");
      expect(readScoreText(bytes).warnings.map(({ message }) => message)).toEqual([
        `The file does not say so, but is written in Latin-1 (first at byte ${head.length + 3}); read as that.`,
      ]);
    }
  });

  test.each([
    ["UTF-8 with one byte broken", [0xc3, 0xa9, 0x20, 0xe9]],
    ["a script of two bytes a sign", [0xd6, 0xd0, 0xb9, 0xfa]],
    ["bytes that stand for nothing", [0x81]],
  ])("in %s are an error with the offset of the byte", (_, broken) => {
    const before = strToU8(declared("UTF-8", ""));
    const finding = errorOf(() => readScoreText(join(before, broken)));
    expect(finding.rule).toBe("encoding-invalid");
    expect(finding.message).toMatch(/^Byte 0x[0-9A-F]{2} at offset \d+ is not UTF-8/);
  });

  test("in an encoding nobody knows are an error that names it", () => {
    expect(errorOf(() => readScoreText(strToU8(declared("x-lute")))).message).toContain("x-lute");
  });

  test("with blanks before the declaration are read, with a warning", () => {
    const bytes = strToU8(`\n  ${inUtf8}`);
    expect(readScoreText(bytes).text).toBe(inUtf8);
    expect(rules(bytes)).toEqual(["blank-before-declaration"]);
  });

  test.each([
    ["a picture (PNG)", [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a]],
    ["a PDF document", strToU8("%PDF-1.7")],
    ["a MIDI file", strToU8("MThd....")],
    ["some other kind of file, with no text in it", [1, 2, 3, 4]],
  ])("that are %s are said to be no score", (what, bytes) => {
    const finding = errorOf(() => readScoreText(Uint8Array.from(bytes)));
    expect(finding.message).toBe(`This is not a score but ${what}.`);
  });

  test("that are none, or too many, are an error", () => {
    expect(errorOf(() => readScoreText(new Uint8Array())).rule).toBe("file-empty");
    expect(errorOf(() => readScoreText(new Uint8Array(FILE_LIMITS.plainBytes + 1))).rule).toBe("too-large");
  });
});

describe("XML that is not to be trusted", () => {
  const NESTED = Array.from(
    { length: 9 },
    (_, level) => `<!ENTITY e${level + 1} "&e${level};&e${level};">`,
  ).join("");

  test.each([
    ["an external entity", '<!DOCTYPE a [<!ENTITY x SYSTEM "file:///etc/passwd">]><a>&x;</a>'],
    ["a parameter entity", '<!DOCTYPE a [<!ENTITY % x SYSTEM "http://127.0.0.1:9/">%x;]><a/>'],
    ["entities inside one another", `<!DOCTYPE a [<!ENTITY e0 "ha">${NESTED}]><a>&e9;</a>`],
    ["one large entity", `<!DOCTYPE a [<!ENTITY e "${"x".repeat(100_000)}">]><a>&e;</a>`],
  ])("is refused for %s, before it is used", (_, xml) => {
    const finding = errorOf(() => parseXml(xml));
    expect(finding.rule).toBe("doctype-entities");
    expect(finding.message).toMatch(/DOCTYPE.*entities/);
  });

  test("may name a DTD, which is kept and never fetched", () => {
    const xml = '<!DOCTYPE score-partwise SYSTEM "http://127.0.0.1:9/partwise.dtd"><score-partwise/>';
    expect(parseXml(xml).prolog).toContain("partwise.dtd");
  });

  test.each([
    ["a tag left open", "<a>\n  <b>\n</a>", 3],
    ["a bare ampersand", "<a>\nRise & Shine</a>", 2],
    ["two roots", "<a/>\n<b/>", 2],
    ["the same attribute twice", '<a b="1" b="2"/>', 1],
    ["text after the root", "<a/>\nhello", 2],
    ["no XML at all", "hello", 1],
    ["an end in the middle", "<a>\n<b", 2],
    ["nothing but blanks", "  ", 1],
    ["an entity nobody declared", "<a>&eacute;</a>", 1],
    ["a control sign", "<a>\u0001</a>", 1],
  ])("with %s is an error with its line", (_, xml, line) => {
    const finding = errorOf(() => parseXml(xml));
    expect(finding.rule).toBe("not-well-formed");
    expect(finding.place.line).toBe(line);
    expect(finding.place.column).toBeGreaterThan(0);
  });

  test("is refused when elements stand too deep or bear names of the language's own", () => {
    const deep = (levels: number) => `${"<a>".repeat(levels)}${"</a>".repeat(levels)}`;
    expect(parseXml(deep(FILE_LIMITS.elementDepth)).root.name).toBe("a");
    expect(errorOf(() => parseXml(deep(FILE_LIMITS.elementDepth + 1))).rule).toBe("too-deep");
    expect(errorOf(() => parseXml(deep(100_000))).rule).toBe("too-deep");
    expect(errorOf(() => parseXml("<a><__proto__/></a>")).rule).toBe("element-name");
    expect(errorOf(() => parseXml("<a><constructor/></a>")).rule).toBe("element-name");
  });

  test("is refused past two million elements", () => {
    expect(errorOf(() => parseXml(`<a>${"<b/>".repeat(FILE_LIMITS.elements)}</a>`)).rule).toBe(
      "too-many-elements",
    );
  });
});
