import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { importer, type model, Settings } from "@coderline/alphatab";
import { VerovioToolkit } from "verovio/esm";
import createVerovioModule from "verovio/wasm";
import { beforeAll, describe, expect, test } from "vitest";
import { struckSupports } from "../../src/arrangement/played-notes.js";
import {
  type Arranged,
  arrangeScore,
  completeOptions,
  Findings,
  parseXml,
  printXml,
  type XmlDocument,
} from "../../src/index.js";
import { writeGuitarPart } from "../../src/musicxml/guitar-writing/write-guitar-part.js";
import { childNamed, everyNamed } from "../../src/xml/xml-tree.js";
import { soundingNotes } from "../support/midi-notes.js";

const SAMPLES = fileURLToPath(new URL("../../sample-scores/", import.meta.url));

/** Triplets and lyrics; compound meter; slash chords; pickup and ties. */
const TUNES = ["harbour-in-june", "clockmakers-holiday", "down-the-back-stairs", "kettle-on-the-sill"];

interface Heard {
  readonly arranged: Arranged;
  readonly text: string;
}

/** Each tune is arranged once; layouts differ in the writing alone. */
const ARRANGED = new Map<string, { readonly lead: XmlDocument; readonly arranged: Arranged }>();

function guitarAlone(name: string, staves: string): Heard {
  const options = completeOptions({ lead: "drop", staves, diagrams: true });
  let made = ARRANGED.get(name);
  if (made === undefined) {
    const lead = parseXml(readFileSync(`${SAMPLES}${name}.musicxml`, "utf8"));
    made = { lead, arranged: arrangeScore(lead, options, new Findings()) };
    ARRANGED.set(name, made);
  }
  const { lead, arranged } = made;
  return {
    arranged,
    text: printXml(writeGuitarPart(lead, arranged.sheet, arranged.arrangement, options)),
  };
}

/** What the arrangement strikes, by quarter and from the top down: MIDI number with string and fret. */
function struck({ sheet, arrangement }: Arranged) {
  const { tune } = sheet;
  const melody = tune.melody.map((note, index) => ({
    at: note.onset,
    midi: note.midi + arrangement.transposition.semitones,
    place: arrangement.melody[index],
  }));
  const supports = struckSupports(arrangement).map((note) => ({
    at: note.onset,
    midi: note.midi,
    place: note,
  }));
  return [...melody, ...supports]
    .map(({ at, midi, place }) => ({
      quarter: round(at / tune.ticksPerQuarter),
      midi,
      place: `${place?.string}/${place?.fret}`,
    }))
    .sort((one, other) => one.quarter - other.quarter || other.midi - one.midi);
}

const round = (quarters: number): number => Math.round(quarters * 1000) / 1000;

describe.each(TUNES)("%s, read by verovio", (name) => {
  let toolkit: VerovioToolkit;
  let heard: Heard;
  beforeAll(async () => {
    toolkit = new VerovioToolkit(await createVerovioModule());
    toolkit.setOptions({ expandNever: true });
    heard = guitarAlone(name, "parts");
    expect(toolkit.loadData(heard.text)).toBeTruthy();
  });

  test("has the melody on top, note for note", () => {
    const { tune } = heard.arranged.sheet;
    const onsets = new Set(tune.melody.map(({ onset }) => round(onset / tune.ticksPerQuarter)));
    const top = toolkit
      .renderToTimemap()
      .filter(({ on, qstamp }) => on !== undefined && onsets.has(round(qstamp)))
      .map(({ on = [], qstamp }) => [
        round(qstamp),
        Math.max(...on.map((id) => toolkit.getMIDIValuesForElement(id).pitch)),
      ]);
    expect(top).toEqual(tune.melody.map(({ onset, midi }) => [round(onset / tune.ticksPerQuarter), midi]));
  });

  test("sounds every note once: TAB is silent", () => {
    const expected = struck(heard.arranged).map(({ midi }) => midi);
    expect(soundingNotes(toolkit.renderToMIDI())).toEqual(expected.sort((one, other) => one - other));
  });
});

describe.each(TUNES)("%s, read by alphaTab", (name) => {
  const readScore = (text: string) =>
    importer.ScoreLoader.loadScoreFromBytes(new TextEncoder().encode(text), new Settings());

  const heardIn = (staff: model.Staff | undefined, textOf: (note: model.Note) => string) =>
    (staff?.bars ?? [])
      .flatMap(({ voices }) => voices)
      .flatMap(({ beats }) => beats)
      .flatMap((beat) =>
        beat.notes
          .filter((note) => !note.isTieDestination)
          .map((note) => ({
            quarter: round((beat.voice.bar.masterBar.start + beat.playbackStart) / 960),
            midi: note.realValue,
            text: textOf(note),
          })),
      )
      .sort((one, other) => one.quarter - other.quarter || other.midi - one.midi)
      .map(({ midi, text }) => `${midi} ${text}`);

  const place = (note: model.Note) => `${7 - note.string}/${note.fret}`;

  test("has the strings and frets of the arrangement on TAB, and the same pitches above it", () => {
    const { arranged, text } = guitarAlone(name, "parts");
    const [notation, tab] = readScore(text).tracks;
    const expected = struck(arranged);
    expect(heardIn(tab?.staves[0], place)).toEqual(expected.map(({ midi, place: at }) => `${midi} ${at}`));
    expect(heardIn(notation?.staves[0], () => "")).toEqual(expected.map(({ midi }) => `${midi} `));
    expect(tab?.playbackInfo.volume).toBe(0);
    expect(notation?.playbackInfo.volume).toBeGreaterThan(0);
    expect(tab?.staves[0]?.tuning).toEqual([64, 59, 55, 50, 45, 40]);
  });

  test("has them in one part with two staves, and on TAB alone", () => {
    for (const [staves, index] of [
      ["joined", 1],
      ["tab", 0],
    ] as const) {
      const { arranged, text } = guitarAlone(name, staves);
      const staff = readScore(text).tracks[0]?.staves[index];
      expect(heardIn(staff, place), staves).toEqual(
        struck(arranged).map(({ midi, place: at }) => `${midi} ${at}`),
      );
    }
  });

  test("has a diagram for every symbol that has one in the file", () => {
    const { text } = guitarAlone(name, "parts");
    const diagrams = [...(readScore(text).tracks[0]?.staves[0]?.chords?.values() ?? [])].filter(
      (chord) => chord.strings.length > 0,
    );
    const symbols = [...everyNamed(parseXml(text).root, "harmony")].filter((one) => childNamed(one, "frame"));
    expect(symbols.length).toBeGreaterThan(0);
    expect(diagrams.length).toBeGreaterThan(0);
    expect(diagrams.length).toBeLessThanOrEqual(symbols.length);
  });
});
