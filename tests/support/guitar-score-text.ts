import { midiAt, STANDARD_TUNING } from "../../src/guitar/instrument.js";
import { type Pitch, parsePitchName, pitchNamed } from "../../src/song/pitch.js";
import { GUITAR } from "./guitar.js";

/** How a guitar score is put into a file. */
export interface ScoreWishes {
  readonly layout?: "parts" | "joined" | "tab" | "notation";
  /** Quarter notes a minute. */
  readonly tempo?: number;
  /** A lead sheet's melody in a part before the guitar, in the same short text. */
  readonly lead?: string;
  readonly openStrings?: readonly number[];
  readonly capo?: number;
  /** Whether the TAB staff says how it is tuned. */
  readonly isTuningStated?: boolean;
}

/** Divisions of a quarter note. */
const DIVISIONS = 4;

/**
 * A guitar score in 4/4 as MusicXML, from a short text, each bar with one voice or two:
 *
 *     [C7] 3:3:2+2:1:1+1:0/2 1:3:4/2 & r/4 4:2:1/2. | 2:5:1~/1 | 2:5:1/1
 *
 * A note is string:fret:finger, the finger left out where there is none; =Bb4 gives it a pitch other than
 * string and fret say. A pitch alone, C4 or C4:2 with a finger, has no place on the strings. A value
 * follows the slash, ~ ties on, & begins the second voice.
 */
export function guitarScoreText(text: string, wishes: ScoreWishes = {}): string {
  const { layout = "parts", lead } = wishes;
  const bars = text.split("|").map((bar) => bar.trim());
  const parts: readonly Part[] = [
    ...(lead === undefined ? [] : [{ id: "L", staves: ["lead"] as const, bars: lead.split("|") }]),
    ...(layout === "joined"
      ? [{ id: "G", staves: ["notation", "tab"] as const, bars }]
      : layout === "parts"
        ? [
            { id: "G", staves: ["notation"] as const, bars },
            { id: "T", staves: ["tab"] as const, bars },
          ]
        : [{ id: "G", staves: [layout] as const, bars }]),
  ];
  return `<?xml version="1.0" encoding="UTF-8"?>
<score-partwise version="4.0">
  <part-list>
${parts.map(({ id }) => `    <score-part id="${id}"><part-name>${id}</part-name></score-part>`).join("\n")}
  </part-list>
${parts.map((part) => partXml(part, wishes)).join("\n")}
</score-partwise>
`;
}

type Staff = "lead" | "notation" | "tab";

interface Part {
  readonly id: string;
  readonly staves: readonly Staff[];
  readonly bars: readonly string[];
}

function partXml({ id, staves, bars }: Part, wishes: ScoreWishes): string {
  /** What each voice ties on, by voice number. */
  const ties = new Map<number, ReadonlySet<string>>();
  const measures = bars.map((bar, index) => {
    const opening = index === 0 ? attributesXml(staves, wishes) : "";
    const tempo =
      index === 0 && staves[0] !== "tab" && wishes.tempo !== undefined
        ? `<direction><direction-type><words>in time</words></direction-type><sound tempo="${wishes.tempo}"/></direction>`
        : "";
    const back = `<backup><duration>${4 * DIVISIONS}</duration></backup>`;
    const music = staves.map((staff, staffIndex) => {
      const onlyStaff = staves.length === 1 ? undefined : staffIndex + 1;
      return bar
        .split("&")
        .map((voice, voiceIndex) =>
          voiceXml(voice.trim(), staff, onlyStaff, 4 * staffIndex + voiceIndex + 1, ties, wishes),
        )
        .join(back);
    });
    return `    <measure number="${index + 1}">${opening}${tempo}${music.join(back)}</measure>`;
  });
  return `  <part id="${id}">\n${measures.join("\n")}\n  </part>`;
}

function attributesXml(staves: readonly Staff[], wishes: ScoreWishes): string {
  const numbered = (index: number) => (staves.length === 1 ? "" : ` number="${index + 1}"`);
  const clefs = staves.map((staff, index) =>
    staff === "tab"
      ? `<clef${numbered(index)}><sign>TAB</sign><line>5</line></clef>`
      : `<clef${numbered(index)}><sign>G</sign><line>2</line>${staff === "notation" ? "<clef-octave-change>-1</clef-octave-change>" : ""}</clef>`,
  );
  const details = staves.map((staff, index) => (staff === "tab" ? detailsXml(numbered(index), wishes) : ""));
  return [
    `<attributes><divisions>${DIVISIONS}</divisions><time><beats>4</beats><beat-type>4</beat-type></time>`,
    staves.length === 1 ? "" : `<staves>${staves.length}</staves>`,
    ...clefs,
    ...details,
    "</attributes>",
  ].join("");
}

function detailsXml(number: string, wishes: ScoreWishes): string {
  const { openStrings = STANDARD_TUNING, capo = 0, isTuningStated = true } = wishes;
  if (!isTuningStated) return "";
  const tunings = openStrings.toReversed().map((midi, index) => {
    const { letter, alter, octave } = pitchOf(midi);
    return `<staff-tuning line="${index + 1}"><tuning-step>${letter}</tuning-step><tuning-alter>${alter}</tuning-alter><tuning-octave>${octave}</tuning-octave></staff-tuning>`;
  });
  return `<staff-details${number}><staff-lines>${openStrings.length}</staff-lines>${tunings.join("")}${capo === 0 ? "" : `<capo>${capo}</capo>`}</staff-details>`;
}

function voiceXml(
  text: string,
  staff: Staff,
  staffNumber: number | undefined,
  voice: number,
  ties: Map<number, ReadonlySet<string>>,
  wishes: ScoreWishes,
): string {
  return text
    .split(/\s+/)
    .filter((word) => word !== "")
    .map((word) => {
      const chord = /^\[(.*)\]$/.exec(word);
      if (chord !== null) return staff === "tab" && wishes.layout !== "tab" ? "" : harmonyXml(chord[1] ?? "");
      const [notes = "", value = "4"] = word.split("/");
      const isTied = notes.endsWith("~");
      const duration = durationOf(value);
      const end = `<voice>${voice}</voice>${staffNumber === undefined ? "" : `<staff>${staffNumber}</staff>`}`;
      if (notes === "r") return `<note><rest/><duration>${duration}</duration>${end}</note>`;
      const all = notes.replace("~", "").split("+");
      const before = ties.get(voice);
      ties.set(voice, new Set(isTied ? all : []));
      return all
        .map((note, index) => {
          const { pitch, string, fret, finger } = readNote(note, wishes);
          const tieMarks = `${before?.has(note) ? '<tie type="stop"/>' : ""}${isTied ? '<tie type="start"/>' : ""}`;
          const technical = [
            finger === undefined || (staff === "tab" && wishes.layout !== "tab") || staff === "lead"
              ? ""
              : `<fingering>${finger}</fingering>`,
            staff !== "tab" || string === undefined ? "" : `<string>${string}</string><fret>${fret}</fret>`,
          ].join("");
          return [
            `<note>${index === 0 ? "" : "<chord/>"}`,
            `<pitch><step>${pitch.letter}</step><alter>${pitch.alter}</alter><octave>${pitch.octave}</octave></pitch>`,
            `<duration>${duration}</duration>${tieMarks}${end}`,
            technical === "" ? "" : `<notations><technical>${technical}</technical></notations>`,
            "</note>",
          ].join("");
        })
        .join("");
    })
    .join("");
}

const HARMONY_KINDS: Readonly<Record<string, string>> = {
  "": "major",
  m: "minor",
  "7": "dominant",
  maj7: "major-seventh",
};

function harmonyXml(text: string): string {
  const [, letter = "C", kind = ""] = /^([A-G])(.*)$/.exec(text) ?? [];
  return `<harmony><root><root-step>${letter}</root-step></root><kind>${HARMONY_KINDS[kind] ?? kind}</kind></harmony>`;
}

/** "2." is three quarters, "8" half a one. */
const durationOf = (value: string): number =>
  ((4 * DIVISIONS) / Number.parseInt(value, 10)) * (value.endsWith(".") ? 1.5 : 1);

interface WrittenNote {
  readonly pitch: Pitch;
  readonly string: number | undefined;
  readonly fret: number | undefined;
  readonly finger: string | undefined;
}

function readNote(text: string, { openStrings = STANDARD_TUNING, capo = 0 }: ScoreWishes): WrittenNote {
  const [place = "", pitch] = text.split("=");
  if (/^[A-G]/.test(place)) {
    const [name = "", finger] = place.split(":");
    return { pitch: pitchFrom(name), string: undefined, fret: undefined, finger };
  }
  const [string = 1, fret = 0] = place.split(":").map(Number);
  const finger = place.split(":")[2];
  const midi = pitch === undefined ? midiAt({ ...GUITAR, openStrings, capo }, string, fret) : 0;
  return { pitch: pitch === undefined ? pitchOf(midi) : pitchFrom(pitch), string, fret, finger };
}

function pitchFrom(text: string): Pitch {
  const [, name = "", octave = ""] = /^(.*?)(\d)$/.exec(text) ?? [];
  const parsed = parsePitchName(name);
  if (parsed === undefined) throw new Error(`no pitch "${text}"`);
  return { ...parsed, octave: Number(octave) };
}

function pitchOf(midi: number): Pitch {
  for (const alter of [0, -1])
    for (const letter of ["C", "D", "E", "F", "G", "A", "B"] as const) {
      const pitch = pitchNamed({ letter, alter }, midi);
      if (pitch !== undefined) return pitch;
    }
  throw new Error(`no pitch ${midi}`);
}
