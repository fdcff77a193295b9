import type { Finding } from "../diagnostics.js";
import type { GuitarNote, StaffReading } from "../guitar/guitar-score.js";
import { pitchText } from "../song/pitch.js";
import { type JudgedScore, placeOf, type Rule } from "./judged-score.js";

/** Where notation and TAB do not say the same. */
export const stavesDisagree: Rule = (judged) => {
  const { score } = judged;
  if (score.layout !== "parts" && score.layout !== "joined") return [];
  const whole = score.notationAboveTab === 0 ? [] : [wholeStaff(score.notationAboveTab)];
  return [...whole, ...score.notes.flatMap((note) => differences(judged, note))];
};

function differences(judged: JudgedScore, note: GuitarNote): readonly Finding[] {
  const { notation, tab } = note;
  if (notation === undefined || tab === undefined) {
    // TAB may leave grace notes to the notation.
    if (note.kind === "grace") return [];
    const [there, missing] = notation === undefined ? ["TAB", "notation"] : ["notation", "TAB"];
    const name = pitchText(note.pitch);
    return [
      disagree(
        judged,
        note,
        `${name} in the ${there} only`,
        `${name} is in the ${there}, and not in the ${missing}.`,
      ),
    ];
  }
  return FACTS.flatMap(({ say, isSame }) =>
    isSame(notation, tab, judged)
      ? []
      : [
          disagree(
            judged,
            note,
            `${say(notation, judged)} and ${say(tab, judged)}`,
            `The notation says ${say(notation, judged)}, the TAB ${say(tab, judged)}.`,
          ),
        ],
  );
}

interface Fact {
  readonly say: (reading: StaffReading, judged: JudgedScore) => string;
  readonly isSame: (notation: StaffReading, tab: StaffReading, judged: JudgedScore) => boolean;
}

/** A fact that only one staff states is no disagreement. */
const isSameWhereSaid = (one: number | undefined, other: number | undefined): boolean =>
  one === undefined || other === undefined || one === other;

const FACTS: readonly Fact[] = [
  {
    say: ({ pitch }) => pitchText(pitch),
    isSame: (notation, tab, { score }) => notation.midi === tab.midi + score.notationAboveTab,
  },
  {
    say: ({ length }, { score }) => {
      const quarters = Math.round((length / score.ticksPerQuarter) * 1000) / 1000;
      return `${quarters} quarter note${quarters === 1 ? "" : "s"}`;
    },
    isSame: (notation, tab) => notation.length === tab.length,
  },
  {
    say: ({ string }) => `string ${string}`,
    isSame: (one, other) => isSameWhereSaid(one.string, other.string),
  },
  { say: ({ fret }) => `fret ${fret}`, isSame: (one, other) => isSameWhereSaid(one.fret, other.fret) },
  {
    say: ({ finger }) => `finger ${finger}`,
    isSame: (one, other) => isSameWhereSaid(one.finger, other.finger),
  },
];

const disagree = ({ score }: JudgedScore, note: GuitarNote, found: string, message: string): Finding => ({
  rule: "staves-disagree",
  severity: "error",
  place: placeOf(score, note),
  found,
  expected: "the same on both staves",
  message,
});

const wholeStaff = (semitones: number): Finding => ({
  rule: "staves-disagree",
  severity: "error",
  place: {},
  found: `a notation staff ${Math.abs(semitones)} semitones ${semitones > 0 ? "above" : "below"} the TAB`,
  expected: "the same pitches on both staves",
  message: `The whole notation staff sounds ${Math.abs(semitones) / 12} octave${Math.abs(semitones) === 12 ? "" : "s"} ${semitones > 0 ? "above" : "below"} the TAB.`,
  hint: "A clef with a small 8 and a transposition were used together, or neither of them.",
});
