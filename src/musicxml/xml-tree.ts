/**
 * A lossless XML tree. Text and attribute values are kept exactly as they stand in the file, still
 * escaped; `textOf`, `attributeOf` decode, `element` and `text` encode.
 */
export type XmlNode = XmlElement | XmlText | XmlComment | XmlCdata | XmlInstruction;

export interface XmlElement {
  readonly kind: "element";
  readonly name: string;
  /** Name to raw value, in the order of the file. */
  readonly attributes: ReadonlyMap<string, string>;
  readonly children: readonly XmlNode[];
}
export interface XmlText {
  readonly kind: "text";
  readonly raw: string;
}
export interface XmlComment {
  readonly kind: "comment";
  readonly raw: string;
}
export interface XmlCdata {
  readonly kind: "cdata";
  readonly raw: string;
}
export interface XmlInstruction {
  readonly kind: "instruction";
  readonly target: string;
  readonly raw: string;
}

/** A whole document: what stands before the root element, the root, what stands after it. */
export interface XmlDocument {
  /** Everything before the root as text: declaration, DOCTYPE, comments, instructions. */
  readonly prolog: string;
  readonly root: XmlElement;
  readonly epilog: string;
}
