import type {
  ArrangeOptions,
  EngravedNote,
  Finding,
  HandTrace,
  KeyEntry,
  Performance,
  PlaceReport,
  Report,
  ShownParts,
  WishesFile,
} from "undervoice";

/** Options that differ from their defaults. */
export type GivenOptions = { readonly [Name in keyof ArrangeOptions]?: ArrangeOptions[Name] | undefined };

/** What the page asks the worker that holds the score. */
export type CoreQuestion =
  | { readonly kind: "open"; readonly bytes: Uint8Array }
  | ({ readonly kind: "arrange" } & Asked)
  | ({ readonly kind: "engraving"; readonly shown: ShownParts } & Asked)
  | ({ readonly kind: "file"; readonly form: FileForm; readonly name: string } & Asked)
  | { readonly kind: "wishes"; readonly text: string }
  | { readonly kind: "keys"; readonly bytes: Uint8Array; readonly options: GivenOptions };

/** What is asked of an arrangement, as the command line is asked for it. */
export interface Asked {
  readonly options: GivenOptions;
  readonly wishes: WishesFile;
}

/** Forms in which an arrangement leaves the page. */
export type FileForm = "musicxml" | "mxl" | "midi" | "report" | "words" | "sheet";

export interface CoreAnswers {
  readonly open: Engraving & { readonly hasGuitar: boolean };
  readonly arrange: Draft;
  readonly engraving: Engraving;
  readonly file: { readonly bytes: Uint8Array };
  readonly wishes: WishesFile;
  readonly keys: { readonly keys: readonly KeyEntry[]; readonly written: string };
}

/** MusicXML to be engraved, and where its notes stand. */
export interface Engraving {
  readonly xml: string;
  readonly notes: readonly EngravedNote[];
}

/** What the page knows of an arrangement. */
export interface Draft {
  readonly report: Report;
  readonly trace: HandTrace;
  readonly performance: Performance;
  readonly cost: number;
  readonly quartersPerMinute: number;
}

/** A question under way, and what comes back for it. */
export interface CoreRequest {
  readonly id: number;
  readonly question: CoreQuestion;
}

/** A key and octave of a survey, as soon as it is worked out. */
export interface KeyFound {
  readonly key: string;
  readonly place: PlaceReport;
}

export type CoreReply =
  | { readonly id: number; readonly kind: "part"; readonly part: KeyFound }
  | { readonly id: number; readonly kind: "answer"; readonly answer: unknown }
  | { readonly id: number; readonly kind: "refused"; readonly findings: readonly Finding[] };
