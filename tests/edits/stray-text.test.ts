import { expect, test } from "vitest";
import { parseXml } from "../../src/xml/parse-xml.js";
import { elementsOf, text, withChildren, type XmlElement, type XmlNode } from "../../src/xml/xml-tree.js";
import { harmony, leadSheet, note } from "../support/score-text.js";
import { made } from "./edited.js";

/** A tune with one of everything that the guitar part copies from its lead sheet, on lines of its own. */
const TUNE = leadSheet(
  `<attributes><directive>Slowly</directive></attributes>
   <barline location="left"><repeat direction="forward"/></barline>
   <direction placement="above"><direction-type><metronome><beat-unit>quarter</beat-unit><per-minute>90</per-minute></metronome></direction-type><sound tempo="90"/></direction>
   <direction><direction-type><dynamics><mf/></dynamics></direction-type><offset>0</offset><staff>1</staff></direction>
   ${harmony("C")}` +
    note("C5", 8, {
      after:
        '<notations><ornaments><trill-mark/></ornaments><slur type="start"/></notations><lyric number="1"><syllabic>single</syllabic><text>plum</text></lyric>',
    }) +
    note("E5", 8, {
      after: '<notations><slur type="stop"/><articulations><accent/></articulations></notations>',
    }),
  `${harmony("G7")}${note("G5", 16)}<barline location="right"><bar-style>light-heavy</bar-style><ending number="1" type="start"/><repeat direction="backward"/></barline>`,
).replace(/>(?=<[^/])/g, ">\n  ");

const PLACES = ["first", "between", "last"] as const;

test.each(["drop", "keep"])(
  "text that strayed between elements changes nothing when the score comes back, lead %s",
  (lead) => {
    const root = parseXml(TUNE).root;
    for (const name of parents(root))
      for (const place of PLACES) {
        const strayed = { ...parseXml(TUNE), root: withStray(root, name, place) };
        const first = made(strayed, { lead });
        const again = made(parseXml(first.text));
        expect(again.text, `${name} ${place}`).toBe(first.text);
      }
  },
);

test("text that strayed into a lyric is still in the copy", () => {
  const { root } = parseXml(TUNE);
  const { text } = made({ ...parseXml(TUNE), root: withStray(root, "lyric", "between") }, { lead: "drop" });
  expect(text).toMatch(/<\/syllabic>\s*stray &amp; lost\s*<text>plum/);
});

/** Names of the elements that hold others. */
const parents = (root: XmlElement): ReadonlySet<string> => {
  const names = new Set<string>();
  const look = (one: XmlElement): void => {
    if (elementsOf(one).length > 0) names.add(one.name);
    elementsOf(one).forEach(look);
  };
  look(root);
  return names;
};

/** With text beside the children of every element of a name, blanks around it. */
function withStray(root: XmlElement, name: string, place: (typeof PLACES)[number]): XmlElement {
  const stray: XmlNode = text("\n  stray & lost \n\t ");
  const change = (one: XmlElement): XmlElement => {
    const children = one.children.map((child) => (child.kind === "element" ? change(child) : child));
    if (one.name !== name || elementsOf(one).length === 0) return withChildren(one, children);
    const at = { first: 0, between: Math.ceil(children.length / 2), last: children.length }[place];
    return withChildren(one, [...children.slice(0, at), stray, ...children.slice(at)]);
  };
  return change(root);
}
