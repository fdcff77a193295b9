/** Text as it stands between tags or in a quoted attribute of HTML or SVG. */
export const escapedText = (content: string): string =>
  content.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;").replaceAll('"', "&quot;");
