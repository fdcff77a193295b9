import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { readScoreText } from "../../src/xml/container.js";
import { parseXml } from "../../src/xml/parse-xml.js";
import { printedBytes, printXml } from "../../src/xml/print-xml.js";
import { canonicalXml } from "../support/canonical-xml.js";
import { isSharedHere, SHARED } from "../support/shared.js";

const printed = (xml: string) => printXml(parseXml(xml));

describe("A document comes back as it went in", () => {
  test.each([
    ["references and entities", "<a>&#233; &amp;amp; &quot; &#13; &lt;</a>"],
    ["blanks, also at the ends", "<a> <b>  </b>\n\t<c> x </c> </a>"],
    ["numbers as they were written", "<a><b>01</b><b>1e5</b><b>101.50</b></a>"],
    ["a newline, a tab and a reference in an attribute", '<a b="one\ntwo\tthree&#10;four"/>'],
    ["double quotes inside single quotes", "<a b='a \"b\"'/>"],
    ["CDATA", "<a><![CDATA[<b> & ]] ></b>]]></a>"],
    ["comments before, within and after", "<!-- one --><a><!-- two --></a><!-- three -->"],
    ["instructions with free text", '<?first?><a><?second free text?><?third a="b"?></a><?last x?>'],
    ["what looks like an instruction in a comment", "<a><!-- <?no?> --><![CDATA[<?no?>]]></a>"],
    ["namespaces", '<a xmlns="urn:x" xmlns:y="urn:y" y:z="1" xml:space="preserve"><y:b/></a>'],
    ["signs beyond the basic plane", "<a>\u{1d11e}\u00a0\u266d</a>"],
    [
      "signs beyond ASCII in the midst of it",
      `<a b="caf\u00e9 ou non"><c/>un \u00e9t\u00e9 de \u{1d11e} ici</a>`,
    ],
    ["a text longer than most scores", `<a>${"<b>one \u266d two</b>".repeat(5000)}</a>`],
  ])("%s", (_, xml) => {
    expect(canonicalXml(printed(xml))).toBe(canonicalXml(xml));
    expect(printed(printed(xml))).toBe(printed(xml));
  });

  test("a DOCTYPE, the declaration and comments around the root stay to the letter", () => {
    const xml =
      '<?xml version="1.0" encoding="UTF-8"?>\n<!DOCTYPE a PUBLIC "-//X" "http://127.0.0.1:9/x.dtd">\n<!-- c -->\n<a/>\n<!-- d -->\n';
    expect(printed(xml)).toBe(xml);
  });

  test("one document printed after another leaves the first as it was, short or long", () => {
    const long = `<a>${"<b>one \u266d two</b>".repeat(100_000)}</a>`;
    const [first, second, third] = ["<a>one</a>", long, "<c>and one more</c>"].map((xml) =>
      printedBytes(parseXml(xml)),
    );
    const text = new TextDecoder();
    expect(text.decode(first)).toBe("<a>one</a>");
    expect(text.decode(second)).toBe(long);
    expect(text.decode(third)).toBe("<c>and one more</c>");
  });

  const scores = isSharedHere
    ? ["lead-sheets", "notation-suite"].flatMap((folder) =>
        readdirSync(join(SHARED, "corpus", folder)).map((name) => join(SHARED, "corpus", folder, name)),
      )
    : [];
  test.skipIf(!isSharedHere)("every score of the collection", () => {
    let read = 0;
    for (const path of scores) {
      if (!/\.(mxl|xml|musicxml)$/.test(path)) continue;
      const { text } = readScoreText(readFileSync(path));
      expect(canonicalXml(printed(text)), path).toBe(canonicalXml(text));
      read += 1;
    }
    expect(read).toBeGreaterThan(500);
  });
});
