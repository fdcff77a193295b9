import { type Finding, textOfFinding } from "undervoice";

/** Something that happened to a score, or to a folder. Names are file names in their folder. */
export type WatchEvent =
  | {
      readonly kind: "arranged";
      readonly input: string;
      readonly output: string;
      readonly findings: readonly Finding[];
    }
  /** It and its guitar score are as they were left; nothing was done. */
  | { readonly kind: "unchanged"; readonly input: string; readonly output: string }
  /** It was not arranged, and the note says why. */
  | {
      readonly kind: "noted";
      readonly input: string;
      readonly note: string;
      readonly lines: readonly string[];
    }
  | { readonly kind: "leftAlone"; readonly input: string; readonly reason: string }
  /** A folder or file cannot be used at the moment; it is tried again. */
  | { readonly kind: "trouble"; readonly text: string };

/** An event as lines for a terminal. */
export function linesOf(event: WatchEvent): readonly string[] {
  switch (event.kind) {
    case "arranged":
      return [
        `${event.input} -> ${event.output}`,
        ...event.findings.map((finding) => `  ${textOfFinding(finding)}`),
      ];
    case "unchanged":
      return [];
    case "noted":
      return [`${event.input}: not arranged; see ${event.note}`, ...event.lines.map((line) => `  ${line}`)];
    case "leftAlone":
      return [`${event.input}: left alone: ${event.reason}`];
    case "trouble":
      return [event.text];
  }
}
