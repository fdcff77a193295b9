import { Findings } from "../../src/diagnostics.js";
import { chordOf } from "../../src/harmony/chord-tones.js";
import type { LeadSheet } from "../../src/musicxml/lead-sheet/lead-sheet.js";
import { readLeadSheet } from "../../src/musicxml/lead-sheet/read-lead-sheet.js";
import type { ArrangeOptions } from "../../src/options/options.js";
import type { ChordSpan, Tune } from "../../src/song/tune.js";
import { readScoreText } from "../../src/xml/container.js";
import { parseXml } from "../../src/xml/parse-xml.js";

export interface Reading extends LeadSheet {
  readonly findings: Findings;
}

export const readText = (
  xml: string,
  melody = "auto",
  chordNames: ArrangeOptions["chordNames"] = "auto",
): Reading => {
  const findings = new Findings();
  return { ...readLeadSheet(parseXml(xml).root, { melody, chordNames }, findings), findings };
};

export const readBytes = (bytes: Uint8Array): Reading => {
  const { text, warnings } = readScoreText(bytes);
  const reading = readText(text);
  for (const warning of warnings) reading.findings.add(warning);
  return reading;
};

/** Measure (from 1), beat (from 1), sounding MIDI number, quarters. */
export const melodyTable = ({ measures, melody, ticksPerQuarter }: Tune) =>
  melody.map(({ measure, onset, midi, length }) => [
    measure + 1,
    1 + (onset - (measures[measure]?.start ?? 0)) / ticksPerQuarter,
    midi,
    length / ticksPerQuarter,
  ]);

/** Measure (from 1), beat (from 1), pitch classes with the bass; none under N.C. */
export const chordTable = ({ measures, chords, ticksPerQuarter }: Tune) =>
  chords.map((span) => [
    span.measure + 1,
    1 + (span.start - (measures[span.measure]?.start ?? 0)) / ticksPerQuarter,
    pitchClassesOf(span),
  ]);

export function pitchClassesOf({ symbol }: ChordSpan): readonly number[] {
  if (symbol === undefined) return [];
  const { tones, bass } = chordOf(symbol);
  const classes = new Set(tones.map(({ pitchClass }) => pitchClass));
  if (bass !== undefined) classes.add(bass.pitchClass);
  return [...classes].sort((a, b) => a - b);
}
