import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { ScoreError } from "../../src/diagnostics.js";
import { readScoreText } from "../../src/xml/container.js";
import { isJudgeHere, readByJudge } from "../support/outside-judge.js";
import { melodyTable, readBytes, readText } from "../support/reading.js";
import { harmony } from "../support/score-text.js";
import { isSharedHere, SHARED } from "../support/shared.js";

const FOLDER = join(SHARED, "corpus", "notation-suite");
const scores = isSharedHere ? readdirSync(FOLDER).filter((name) => /\.(xml|musicxml|mxl)$/.test(name)) : [];

/** A file of the suite by the start of its name, where the rest is not ours to repeat. */
const oneStartingWith = (start: string): string => scores.find((name) => name.startsWith(start)) ?? start;

/** Files with a tune and chord symbols: melody notes, chord spans. */
const READ: Readonly<Record<string, readonly [number, number]>> = {
  "45k-Repeats-Chords-FiguredBass.xml": [4, 4],
  "46g-PickupMeasure-Chordnames-FiguredBass.xml": [6, 2],
  "71a-Chordnames.xml": [8, 8],
  "71b-Chordnames-Kinds.xml": [32, 32],
  "71c-ChordsFrets.xml": [8, 8],
  "71d-ChordsFrets-Multistaff.xml": [4, 4],
  "71f-AllChordTypes.xml": [37, 38],
  "71g-MultipleChordnames.xml": [2, 4],
};

/** Files of rests, empty bars and headers: no part has a pitched note to sing, so there is nothing to arrange. */
const NO_MELODY = [
  "02a-Rests-Durations.xml",
  "02b-Rests-PitchedRests.xml",
  "02c-Rests-MultiMeasureRests.xml",
  "41b-MultiParts-MoreThan10.xml",
  "41f-StaffGroups-Overlapping.xml",
  "41g-StaffGroups-NestingOrder.xml",
  "41h-TooManyParts.xml",
  "43g-MultiStaff-PartSymbol.xml",
  "45a-SimpleRepeat.xml",
  "45c-SimpleRepeat-Nested.xml",
  "45d-Repeats-MultipleEndings.xml",
  "45e-Repeats-Combination.xml",
  "45f-Repeats-InvalidEndings.xml",
  "45j-SimpleRepeat-Start.xml",
  "46a-Barlines.xml",
  "51a-Header-Credits.xml",
  "51b-Header-Quotes.xml",
  "51c-MultipleMetadata.xml",
  "51d-EmptyTitle.xml",
  "52a-PageLayout.xml",
];

/** Files that show some notation in one line without any chord symbol: nothing says how to harmonise the tune. */
const NO_CHORD_SYMBOLS = [
  "01a-Pitches-Pitches.xml",
  "01b-Pitches-Intervals.xml",
  "01c-Pitches-NoVoiceElement.xml",
  "01d-Pitches-Microtones.xml",
  "01e-Pitches-ParenthesizedAccidentals.xml",
  "01f-Pitches-ParenthesizedMicrotoneAccidentals.xml",
  "02d-Rests-Multimeasure-TimeSignatures.xml",
  "03a-Rhythm-Durations.xml",
  "03c-Rhythm-DivisionChange.xml",
  "03d-Rhythm-DottedDurations-Factors.xml",
  "03e-Rhythm-No-Divisions.xml",
  "03f-Rhythm-Forward.xml",
  "11a-TimeSignatures.xml",
  "11c-TimeSignatures-Complex.xml",
  "11d-TimeSignatures-ComplexMultiple.xml",
  "11e-TimeSignatures-ComplexMixed.xml",
  "11f-TimeSignatures-SymbolMeaning.xml",
  "11g-TimeSignatures-SingleNumber.xml",
  "11i-TimeSignatures-Alternate.xml",
  "12a-Clefs.xml",
  "12b-Clefs-NoKeyOrClef.xml",
  "13a-KeySignatures.xml",
  "13b-KeySignatures-ChurchModes.xml",
  "13c-KeySignatures-NonTraditional.xml",
  "13d-KeySignatures-Microtones.xml",
  "13e-KeySignatures-Cancel.xml",
  "13f-KeySignatures-Visible.xml",
  "22a-Noteheads.xml",
  "22b-Staff-Notestyles.xml",
  "23a-Tuplets.xml",
  "23b-Tuplets-Styles.xml",
  "23c-Tuplet-Display-NonStandard.xml",
  "23d-Tuplets-Nested.xml",
  "23e-Tuplets-Tremolo.xml",
  "24a-GraceNotes.xml",
  "24c-GraceNote-MeasureEnd.xml",
  "24d-AfterGrace.xml",
  "24e-GraceNote-StaffChange.xml",
  "24f-GraceNote-Slur.xml",
  "24g-GraceNote-Dynamics.xml",
  "31a-Directions.xml",
  "31b-Directions-Order.xml",
  "31c-MetronomeMarks.xml",
  "31d-Directions-Compounds.xml",
  "31f-Direction-Multiline-Compounds.xml",
  "32a-Notations.xml",
  "32b-Articulations-Texts.xml",
  "32c-MultipleNotationChildren.xml",
  "33a-Spanners.xml",
  "33b-Spanners-Tie.xml",
  "33c-Spanners-Slurs.xml",
  "33da-Spanners-OctaveShifts-before.xml",
  "33db-Spanners-OctaveShifts-after.xml",
  "33e-Spanners-OctaveShifts-InvalidSize.xml",
  "33f-Trill-EndingOnGraceNote.xml",
  "33h-Spanners-Glissando.xml",
  "33i-Ties-NotEnded.xml",
  "34a-Print-Object-Spanners.xml",
  "34b-Colors.xml",
  "34c-Font-Size.xml",
  "34d-Note-Attributes.xml",
  "41e-StaffGroups-InstrumentNames-Linebroken.xml",
  "41j-PartNameDisplay-Multiple-DisplayText-Children.xml",
  "41k-PartName-Print.xml",
  "43i-MultiStaff-StaffChange-SingleVoice.xml",
  "45b-RepeatWithAlternatives.xml",
  "45g-Repeats-NotEnded.xml",
  "45h-Repeats-Partial.xml",
  "45i-Repeats-Nested.xml",
  "46b-MidmeasureBarline.xml",
  "46c-Midmeasure-Clef.xml",
  "46d-PickupMeasure-ImplicitMeasures.xml",
  "46f-IncompleteMeasures.xml",
  "46h-Barline-Fermata.xml",
  "46i-OverfullMeasures.xml",
  "46j-EmptyMeasure.xml",
  "52b-Breaks.xml",
  "61a-Lyrics.xml",
  "61b-MultipleLyrics.xml",
  "61f-Lyrics-GracedNotes.xml",
  "61g-Lyrics-NameNumber.xml",
  "61h-Lyrics-BeamsMelismata.xml",
  "61j-Lyrics-Elisions.xml",
  "61k-Lyrics-SpannersExtenders.xml",
  "72c-TransposingInstruments-Change.xml",
  "73a-Percussion.xml",
  "74a-FiguredBass.xml",
  "75a-AccordionRegistrations.xml",
  "90a-Compressed-MusicXML.mxl",
  oneStartingWith("99a-"),
  "99b-Lyrics-BeamsMelismata-IgnoreBeams.xml",
];

/** Files without any chord symbol in which notes sound together: the chords are worked out from them. */
const CHORDS_FROM_VOICES = [
  "02e-Rests-NoType.xml",
  "03b-Rhythm-Backup.xml",
  "11b-TimeSignatures-NoTime.xml",
  "11h-TimeSignatures-SenzaMisura.xml",
  "14a-StaffDetails-LineChanges.xml",
  "21a-Chord-Basic.xml",
  "21b-Chords-TwoNotes.xml",
  "21c-Chords-ThreeNotesDuration.xml",
  "21d-Chords-SchubertStabatMater.xml",
  "21e-Chords-PickupMeasures.xml",
  "21f-Chord-ElementInBetween.xml",
  "21g-Chords-Tremolos.xml",
  "21h-Chord-Accidentals.xml",
  "21i-Chord-DifferentVoices.xml",
  "22c-Noteheads-Chords.xml",
  "22d-Parenthesized-Noteheads.xml",
  "23f-Tuplets-DurationButNoBracket.xml",
  "24b-ChordAsGraceNote.xml",
  "24h-GraceNote-Simultaneous.xml",
  "32d-Arpeggio.xml",
  "32e-Arpeggios-Cross.xml",
  "33g-Slur-ChordedNotes.xml",
  "33j-Beams-Tremolos.xml",
  "33k-Tie-Types.xml",
  "41a-MultiParts-Partorder.xml",
  "41c-StaffGroups.xml",
  "41d-StaffGroups-Nested.xml",
  "41i-PartNameDisplay-Override.xml",
  "41l-GroupNameDisplay-Override.xml",
  "42a-MultiVoice-TwoVoicesOnStaff-Lyrics.xml",
  "42b-MultiVoice-MidMeasureClefChange.xml",
  "43a-PianoStaff.xml",
  "43b-MultiStaff-DifferentKeys.xml",
  "43c-MultiStaff-DifferentKeysAfterBackup.xml",
  "43d-MultiStaff-StaffChange.xml",
  "43e-Multistaff-ClefDynamics.xml",
  "43f-MultiStaff-Lyrics.xml",
  "43h-MultiStaff-Chords.xml",
  "43j-MultiStaff-TimeSignatureAfterBackup.xml",
  "46e-PickupMeasure-SecondVoiceStartsLater.xml",
  "61c-Lyrics-Pianostaff.xml",
  "61d-Lyrics-Melisma.xml",
  "61e-Lyrics-Chords.xml",
  "61i-Lyrics-Chords.xml",
  "71e-TabStaves.xml",
  "72a-TransposingInstruments.xml",
  "72b-TransposingInstruments-Full.xml",
];

/** Where we read another tune than the judge once a chord symbol is put in, and why. */
const READ_OTHERWISE: Readonly<Record<string, string>> = {
  "22a-Noteheads.xml": "its first bar has slash noteheads, which are no tune",
  "22b-Staff-Notestyles.xml": "its bars 2 and 3 are slash notation, which is no tune",
  "43i-MultiStaff-StaffChange-SingleVoice.xml":
    "its one voice goes to the other staff, where the judge stops",
  "71e-TabStaves.xml": "it has nothing but TAB, which we read and the judge does not",
};

const bytesOf = (name: string) => readFileSync(join(FOLDER, name));

/** The rule of the error that reading ends in. Anything but a ScoreError is a crash and goes on. */
function ruleOf(name: string): string | undefined {
  try {
    readBytes(bytesOf(name));
    return undefined;
  } catch (error) {
    if (error instanceof ScoreError) return error.finding.rule;
    throw error;
  }
}

test.skipIf(!isSharedHere)(
  "every file of the notation suite is read, or ends in the error that fits it",
  () => {
    const expected = Object.fromEntries([
      ...Object.keys(READ).map((name) => [name, undefined]),
      ...NO_MELODY.map((name) => [name, "no-melody"]),
      ...CHORDS_FROM_VOICES.map((name) => [name, undefined]),
      ...NO_CHORD_SYMBOLS.map((name) => [name, "no-chord-symbols"]),
    ]);
    expect(Object.fromEntries(scores.map((name) => [name, ruleOf(name)]))).toEqual(expected);
  },
);

test.skipIf(!isSharedHere)(
  "the files with chord symbols have as many notes and chords as were counted in them",
  () => {
    const counted = Object.keys(READ).map((name) => {
      const { melody, chords } = readBytes(bytesOf(name)).tune;
      return [name, [melody.length, chords.length]];
    });
    expect(Object.fromEntries(counted)).toEqual(READ);
  },
);

test.skipIf(!isJudgeHere)(
  "with a chord symbol put in, each of the others gives the tune that the judge finds",
  () => {
    const rounded = (rows: readonly (readonly number[])[]) =>
      rows.map((row) => row.map((value) => Math.round(value * 1e4) / 1e4));
    const otherwise: string[] = [];
    const bare = [...NO_CHORD_SYMBOLS, ...CHORDS_FROM_VOICES].toSorted();
    const judged = readByJudge(bare.map((name) => join(FOLDER, name)));
    judged.forEach((reading, index) => {
      const name = bare[index] ?? "";
      const xml = readScoreText(bytesOf(name)).text.replace(
        /<measure\b[^>]*[^/]>/,
        (start) => start + harmony("C"),
      );
      const ours = rounded(melodyTable(readText(xml).tune));
      const theirs = reading.error === undefined ? rounded(reading.melody) : reading.error;
      if (JSON.stringify(ours) !== JSON.stringify(theirs)) otherwise.push(name);
    });
    expect(otherwise).toEqual(Object.keys(READ_OTHERWISE));
  },
);
