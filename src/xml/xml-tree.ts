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
  /** How it is laid out where it is printed; absent where line breaks are among its children, or none are wanted. */
  readonly layout?: Layout;
}

/** Children on lines of their own, and theirs; elements that hold text stay on one line. */
export interface Layout {
  /** What one level is indented by. */
  readonly indentation: string;
  /** How many elements the laid out one stands in. */
  readonly depth: number;
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

// ---- reading ----

const NAMED_ENTITIES: Readonly<Record<string, string>> = { lt: "<", gt: ">", amp: "&", quot: '"', apos: "'" };

/** Replaces the five predefined entities and character references by what they stand for. */
export const decoded = (raw: string): string =>
  raw.includes("&")
    ? raw.replace(/&(?:#x([0-9a-fA-F]+)|#([0-9]+)|([a-z]+));/g, (whole, hexadecimal, decimal, name) => {
        if (name !== undefined) return NAMED_ENTITIES[name] ?? whole;
        return String.fromCodePoint(
          hexadecimal !== undefined ? Number.parseInt(hexadecimal, 16) : Number(decimal),
        );
      })
    : raw;

/** The element's own text, decoded; that of child elements is not part of it. */
export function textOf(parent: XmlElement): string {
  let joined = "";
  for (const child of parent.children) {
    if (child.kind === "text") joined += decoded(child.raw);
    else if (child.kind === "cdata") joined += child.raw;
  }
  return joined;
}

/** An attribute's value, decoded, line ends and tabs read as blanks; undefined where it is not there. */
export function attributeOf(parent: XmlElement, name: string): string | undefined {
  const raw = parent.attributes.get(name);
  if (raw === undefined) return undefined;
  return /[\n\t&]/.test(raw) ? decoded(raw.replace(/[\n\t]/g, " ")) : raw;
}

export const elementsOf = (parent: XmlElement): readonly XmlElement[] =>
  parent.children.filter((child): child is XmlElement => child.kind === "element");

export function hasElements(parent: XmlElement): boolean {
  for (const child of parent.children) if (child.kind === "element") return true;
  return false;
}

export function childrenNamed(parent: XmlElement, name: string): readonly XmlElement[] {
  const named: XmlElement[] = [];
  for (const child of parent.children) if (child.kind === "element" && child.name === name) named.push(child);
  return named;
}

export function childNamed(parent: XmlElement, name: string): XmlElement | undefined {
  for (const child of parent.children) if (child.kind === "element" && child.name === name) return child;
  return undefined;
}

/** Follows a path of child names, taking the first of each; undefined where one is missing. */
export function descendantAt(parent: XmlElement, ...names: readonly string[]): XmlElement | undefined {
  let here: XmlElement | undefined = parent;
  for (const name of names) here = here === undefined ? undefined : childNamed(here, name);
  return here;
}

/** Text of the first child of that name without blanks around it; undefined where there is no such child. */
export function childText(parent: XmlElement, name: string): string | undefined {
  const child = childNamed(parent, name);
  return child === undefined ? undefined : textOf(child).trim();
}

/** The element and everything below it of one name, in document order. */
export function everyNamed(parent: XmlElement, name: string): readonly XmlElement[] {
  const named: XmlElement[] = [];
  collectNamed(parent, name, named);
  return named;
}

function collectNamed(parent: XmlElement, name: string, named: XmlElement[]): void {
  if (parent.name === name) named.push(parent);
  for (const child of parent.children) if (child.kind === "element") collectNamed(child, name, named);
}

/** Whether the element or anything below it has a name. */
export function holdsNamed(parent: XmlElement, name: string): boolean {
  if (parent.name === name) return true;
  for (const child of parent.children) if (child.kind === "element" && holdsNamed(child, name)) return true;
  return false;
}

// ---- making ----

const ESCAPES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  "\r": "&#13;",
  '"': "&quot;",
  "\n": "&#10;",
  "\t": "&#9;",
};

// Nearly nothing that is written here needs escaping, and all of it is asked.
const escaped = (value: string): string =>
  /[&<>\r]/.test(value) ? value.replace(/[&<>\r]/g, (sign) => ESCAPES[sign] ?? sign) : value;

const escapedInAttribute = (value: string): string =>
  /[&<>\r"\n\t]/.test(value) ? value.replace(/[&<>\r"\n\t]/g, (sign) => ESCAPES[sign] ?? sign) : value;

export const text = (value: string): XmlText => ({ kind: "text", raw: escaped(value) });

export type AttributeValues = Readonly<Record<string, string | number | undefined>>;

/** A new element; attributes that are undefined are left out, a string or number among the children is text. */
export function element(
  name: string,
  attributes: AttributeValues = NO_VALUES,
  children: readonly (XmlNode | string | number)[] = NOTHING,
): XmlElement {
  return {
    kind: "element",
    name,
    attributes: attributes === NO_VALUES ? NO_ATTRIBUTES : attributesFrom(attributes),
    children: children.length === 0 ? NOTHING : children.map(nodeFrom),
  };
}

/** A new element that holds one text or number. */
export const leaf = (name: string, value: string | number): XmlElement => ({
  kind: "element",
  name,
  attributes: NO_ATTRIBUTES,
  children: [nodeFrom(value)],
});

/** By value and name. */
const sharedLeaves = new Map<string | number, Map<string, XmlElement>>();

/**
 * The same, one object for all that are alike: for names and values of which a score has few. A guitar part has
 * thousands of each, and they last until it is written.
 */
export function sharedLeaf(name: string, value: string | number): XmlElement {
  let named = sharedLeaves.get(value);
  if (named === undefined) {
    named = new Map();
    sharedLeaves.set(value, named);
  }
  let shared = named.get(name);
  if (shared === undefined) {
    shared = leaf(name, value);
    named.set(name, shared);
  }
  return shared;
}

/** Of an element without attributes. */
export const NO_VALUES: AttributeValues = {};
/** One map for all elements that have none. */
export const NO_ATTRIBUTES: ReadonlyMap<string, string> = new Map();
const NOTHING: readonly never[] = [];

function attributesFrom(values: AttributeValues): ReadonlyMap<string, string> {
  let attributes: Map<string, string> | undefined;
  for (const name in values) {
    const value = values[name];
    if (value === undefined) continue;
    attributes ??= new Map();
    attributes.set(name, typeof value === "number" ? String(value) : escapedInAttribute(value));
  }
  return attributes ?? NO_ATTRIBUTES;
}

const nodeFrom = (child: XmlNode | string | number): XmlNode =>
  typeof child === "object"
    ? child
    : typeof child === "number"
      ? { kind: "text", raw: String(child) }
      : text(child);

// ---- changing: every function gives a new element and leaves the old one as it was ----

export const withChildren = ({ name, attributes }: XmlElement, children: readonly XmlNode[]): XmlElement => ({
  kind: "element",
  name,
  attributes,
  children,
});

/** With one attribute set, or taken away where the value is undefined. */
export function withAttribute(
  parent: XmlElement,
  name: string,
  value: string | number | undefined,
): XmlElement {
  const attributes = new Map(parent.attributes);
  if (value === undefined) attributes.delete(name);
  else attributes.set(name, escapedInAttribute(String(value)));
  return { ...parent, attributes };
}

/** With each child element passed through a function; undefined leaves it out. */
export const withElements = (
  parent: XmlElement,
  change: (child: XmlElement) => XmlElement | undefined,
): XmlElement =>
  withChildren(
    parent,
    parent.children
      .map((child) => (child.kind === "element" ? change(child) : child))
      .filter((child) => child !== undefined),
  );

export const withoutChildrenNamed = (parent: XmlElement, ...names: readonly string[]): XmlElement =>
  withElements(parent, (child) => (names.includes(child.name) ? undefined : child));
