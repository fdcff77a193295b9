/** A drawing from its text, ready to stand in the page. The text is ours or the engraver's, never a file's. */
export function pictureFrom(svg: string): SVGSVGElement {
  const parsed = new DOMParser().parseFromString(svg, "image/svg+xml");
  return document.importNode(parsed.documentElement, true) as unknown as SVGSVGElement;
}
