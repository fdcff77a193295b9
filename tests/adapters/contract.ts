import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { arrangeBytes } from "#built/arrange-bytes.js";
import { Findings } from "#built/diagnostics.js";
import { completeOptions } from "#built/options/option-checking.js";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";
import { isSchemaHere, schemaErrors } from "../support/schema.js";

/** A score as a person exports it from a notation program. */
export interface ExportedScore {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** What the person finds afterwards. */
export interface Outcome {
  /** What was exported, as it is now. */
  readonly exported: Uint8Array;
  readonly guitarScore: Uint8Array | undefined;
  /** Everything an adapter has to say about the score. */
  readonly notes: readonly string[];
}

/** An adapter with a place to work in, as the contract sees it. */
export interface AdapterInTest {
  /** Exports the scores at the same time and waits for what comes of each. */
  roundTrip(
    scores: readonly ExportedScore[],
    options?: Readonly<Record<string, string | number | boolean>>,
  ): Promise<readonly Outcome[]>;
  /** What lies about that is neither an export nor a guitar score nor a note. */
  leftovers(): readonly string[];
  close(): Promise<void>;
}

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);
const textOf = (bytes: Uint8Array | undefined): string => new TextDecoder().decode(bytes);

const GEESE = bytesOf(
  leadSheetFromText(
    "title: Two Geese\nkey: 0 major\ntime: 4/4\ntempo: 80\n\n[C] G4/2 E4/4 C5/4 | [G7] B4/2 [C] C5/2 ||\n",
  ),
);
const GANDER = bytesOf(
  leadSheetFromText(
    "title: The Gander\nkey: 1 major\ntime: 3/4\ntempo: 70\n\n[G] B4/2 D5/4 | [D7] C5/2 A4/4 | [G] G4/2. ||\n",
  ),
);

const CUT_OFF = GEESE.slice(0, Math.floor(GEESE.length / 2));
const WITHOUT_TUNE = bytesOf(
  '<?xml version="1.0" encoding="UTF-8"?>\n<score-partwise version="4.0"><part-list><score-part id="P1">' +
    '<part-name>Silence</part-name></score-part></part-list><part id="P1"><measure number="1"><attributes>' +
    "<divisions>1</divisions></attributes><note><rest/><duration>4</duration><voice>1</voice></note></measure></part>" +
    "</score-partwise>\n",
);

/** What the library itself makes of a score; an adapter only carries it. */
const arranged = (bytes: Uint8Array, options: Readonly<Record<string, unknown>> = {}): string =>
  textOf(arrangeBytes(bytes, completeOptions(options), new Findings(), { isCompressed: false }).bytes);

const partsIn = (score: string): number => [...score.matchAll(/<part /g)].length;

/** The suite that every adapter passes, whatever way it takes. */
export function adapterContract(name: string, open: () => Promise<AdapterInTest>): void {
  describe(name, () => {
    let adapter: AdapterInTest;
    beforeEach(async () => {
      adapter = await open();
    });
    afterEach(() => adapter.close());

    const one = async (
      bytes: Uint8Array,
      { name = "geese.musicxml", options = {} as Readonly<Record<string, string | number | boolean>> } = {},
    ): Promise<Outcome> => {
      const [outcome] = await adapter.roundTrip([{ name, bytes }], options);
      if (outcome === undefined) throw new Error("nothing came of it");
      return outcome;
    };

    test("a good score comes back arranged, valid and without a note", async () => {
      const { guitarScore, notes } = await one(GEESE);
      expect(textOf(guitarScore)).toBe(arranged(GEESE));
      expect(notes).toEqual([]);
      if (isSchemaHere) expect(schemaErrors(textOf(guitarScore))).toBe("");
      expect(adapter.leftovers()).toEqual([]);
    });

    test.each([
      ["is cut off", CUT_OFF, /line \d+/],
      ["has no tune in it", WITHOUT_TUNE, /melody|sounding note/i],
      ["is empty", new Uint8Array(0), /empty/],
    ])("a score that %s gives one readable note and no guitar score", async (_fault, bytes, reason) => {
      const { guitarScore, notes, exported } = await one(bytes);
      expect(guitarScore).toBeUndefined();
      expect(notes).toHaveLength(1);
      expect(notes[0]).toMatch(reason);
      expect(notes[0]).not.toMatch(/\[object|undefined|^\s+at /m);
      expect(exported).toEqual(bytes);
      expect(adapter.leftovers()).toEqual([]);
    });

    test("a score that is mended afterwards is arranged, and the note is gone", async () => {
      expect((await one(CUT_OFF)).notes).toHaveLength(1);
      const { guitarScore, notes } = await one(GEESE);
      expect(textOf(guitarScore)).toBe(arranged(GEESE));
      expect(notes).toEqual([]);
    });

    test("what was exported is not changed in a byte", async () => {
      expect((await one(GEESE)).exported).toEqual(GEESE);
    });

    test("the same score again gives the same guitar score, and nothing besides", async () => {
      const first = await one(GEESE);
      const second = await one(GEESE);
      expect(second).toEqual(first);
      expect(adapter.leftovers()).toEqual([]);
    });

    test.each([
      [{ texture: "full", frets: 12 }],
      [{ tuning: "D2 A2 D3 G3 B3 E4", diagrams: true }],
      [{ lead: "drop", staves: "tab", key: "F#m", melody: "P1" }],
    ])("the options %j are the ones it is arranged with", async (options) => {
      const { guitarScore } = await one(GEESE, { options });
      expect(textOf(guitarScore)).toBe(arranged(GEESE, options));
      expect(textOf(guitarScore)).not.toBe(arranged(GEESE));
    });

    test("a guitar score that comes back is arranged anew, not a second guitar added", async () => {
      const first = textOf((await one(GEESE)).guitarScore);
      const again = textOf((await one(bytesOf(first), { name: "geese-again.musicxml" })).guitarScore);
      expect(partsIn(first)).toBe(3);
      expect(partsIn(again)).toBe(3);
      expect(again).toBe(first);
    });

    test("two scores at the same time do not mix, nor does a broken one among them harm the others", async () => {
      const [geese, broken, gander] = await adapter.roundTrip([
        { name: "geese.musicxml", bytes: GEESE },
        { name: "broken.musicxml", bytes: CUT_OFF },
        { name: "gander.musicxml", bytes: GANDER },
      ]);
      expect(textOf(geese?.guitarScore)).toBe(arranged(GEESE));
      expect(textOf(gander?.guitarScore)).toBe(arranged(GANDER));
      expect(broken?.guitarScore).toBeUndefined();
      expect([geese, broken, gander].map((outcome) => outcome?.notes.length)).toEqual([0, 1, 0]);
    });

    test("a name with blanks, accents and signs that shells read is no trouble", async () => {
      const { guitarScore } = await one(GEESE, { name: "Zwölf Gänse & $HOME 'round = 50% (v.2).musicxml" });
      expect(textOf(guitarScore)).toBe(arranged(GEESE));
    });
  });
}
