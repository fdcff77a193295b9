type Child = Node | string | undefined;

export type Attributes = Readonly<Record<string, string | number | boolean | undefined>>;

/** An element with attributes and children; an attribute of true is bare, one of false or undefined absent. */
export function make<Name extends keyof HTMLElementTagNameMap>(
  name: Name,
  attributes: Attributes = {},
  ...children: readonly Child[]
): HTMLElementTagNameMap[Name] {
  return filled(document.createElement(name), attributes, children);
}

const SVG = "http://www.w3.org/2000/svg";

/** The same for a drawing. */
export function draw<Name extends keyof SVGElementTagNameMap>(
  name: Name,
  attributes: Attributes = {},
  ...children: readonly Child[]
): SVGElementTagNameMap[Name] {
  return filled(document.createElementNS(SVG, name), attributes, children);
}

function filled<Made extends Element>(made: Made, attributes: Attributes, children: readonly Child[]): Made {
  for (const [name, value] of Object.entries(attributes))
    if (value !== undefined && value !== false) made.setAttribute(name, value === true ? "" : String(value));
  made.append(...children.filter((child) => child !== undefined));
  return made;
}

/** The element of the page that has an id; it is in the page's own document. */
export function byId(id: string): HTMLElement {
  const found = document.getElementById(id);
  if (found === null) throw new Error(`no element ${id}`);
  return found;
}

/** A button that does something. */
export function button(text: string, onClick: () => void, attributes: Attributes = {}): HTMLButtonElement {
  const made = make("button", { type: "button", ...attributes }, text);
  made.addEventListener("click", onClick);
  return made;
}
