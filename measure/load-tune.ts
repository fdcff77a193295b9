/**
 * A tune of our own in MusicXML, 32 bars unless said otherwise: two phrases of eight bars, the first one again,
 * the second one again, and so on.
 */
export function loadTune(length = 32): string {
  const phrases = [...FIRST, ...SECOND];
  const bars = Array.from({ length }, (_, index) => phrases[index % phrases.length])
    .filter((bar) => bar !== undefined)
    .map(measure);
  return (
    '<?xml version="1.0" encoding="UTF-8"?>\n<score-partwise version="4.0">\n' +
    "<work><work-title>Thirty-Two Gates</work-title></work>\n" +
    '<part-list><score-part id="P1"><part-name>Melody</part-name></score-part></part-list>\n' +
    `<part id="P1">\n${bars.join("")}</part>\n</score-partwise>\n`
  );
}

/** Root and kind of a bar's chord, then its notes in quarters. */
type Bar = readonly [root: string, kind: string, notes: string];

const FIRST: readonly Bar[] = [
  ["C", "major-seventh", "G4 E4 G4 B4"],
  ["A", "minor-seventh", "C5 B4 A4 G4"],
  ["D", "minor-seventh", "F4 A4 C5 A4"],
  ["G", "dominant", "B4 A4 G4 F4"],
  ["E", "minor-seventh", "G4 B4 D5 B4"],
  ["A", "dominant", "C5 E5 D5 C5"],
  ["D", "minor-seventh", "A4 F4 A4 C5"],
  ["G", "dominant", "B4 D5 B4 G4"],
];

const SECOND: readonly Bar[] = [
  ["F", "major-seventh", "A4 C5 E5 C5"],
  ["F", "minor-sixth", "D5 C5 A4 F4"],
  ["C", "major-seventh", "E4 G4 B4 C5"],
  ["A", "minor-seventh", "E5 C5 A4 C5"],
  ["D", "dominant", "D5 C5 A4 F4"],
  ["G", "dominant", "G4 A4 B4 D5"],
  ["C", "major-sixth", "E5 C5 A4 G4"],
  ["C", "major", "C5 G4 E4 C4"],
];

const ATTRIBUTES =
  "<attributes><divisions>1</divisions><key><fifths>0</fifths></key>" +
  "<time><beats>4</beats><beat-type>4</beat-type></time>" +
  "<clef><sign>G</sign><line>2</line></clef></attributes>" +
  '<direction><sound tempo="108"/></direction>';

function measure([root, kind, notes]: Bar, index: number): string {
  const harmony = `<harmony><root><root-step>${root}</root-step></root><kind>${kind}</kind></harmony>`;
  const played = notes.split(" ").map(note).join("");
  return `<measure number="${index + 1}">${index === 0 ? ATTRIBUTES : ""}${harmony}${played}</measure>\n`;
}

const note = (pitch: string): string =>
  `<note><pitch><step>${pitch[0]}</step><octave>${pitch[1]}</octave></pitch>` +
  "<duration>1</duration><voice>1</voice><type>quarter</type></note>";
