import type { Attack } from "../arrangement/arrangement.js";
import { shapeName } from "../harmony/shapes/shape-name.js";
import type { AlternativeReport, EventReport, NoteReport } from "./event-report.js";
import { LEFT_OUT_TEXTS, voiceLeftOutText } from "./left-out-texts.js";
import type { Report } from "./report.js";
import { momentText } from "./summary.js";
import { WHY_SINGLE_TEXTS } from "./why-single-texts.js";

/** Every moment of an arrangement in a line or two: what is played and why, then what else could be. */
export const explanationLines = (report: Report): readonly string[] => [
  "Where: string:fret-finger, low to high. What else: with the points that the whole arrangement would cost more.",
  ...report.events.flatMap(linesOf),
];

function linesOf(event: EventReport): readonly string[] {
  const others = event.alternatives.map(alternativeText).join("; ");
  return [
    `${momentText(event)}: ${melodyText(event)}${attackText(event)}, at ${placesText(event.notes)}${shapeText(event)}.${leftOutText(event)}${rightHandText(event)}${moveText(event)}`,
    ...(others === "" ? [] : [`    or ${others}`]),
  ];
}

/** "Eb5, the b3 of Cm7, " */
function melodyText({ melody, melodyDegree, chord }: EventReport): string {
  if (melody === undefined) return chord === undefined ? "a rest, " : `a rest over ${chord}, `;
  return melodyDegree === undefined || chord === undefined
    ? `${melody}, `
    : `${melody}, ${melodyDegree} over ${chord}, `;
}

function attackText({ attack, whySingle, degrees, melodyDegree, leftByMelody }: EventReport): string {
  const why = whySingle === undefined ? "" : ` (${WHY_SINGLE_TEXTS[whySingle]})`;
  const left = leftByMelody === undefined ? "" : ` (${leftByMelodyText(leftByMelody)})`;
  return ATTACK_TEXTS[attack](supportsText(degrees, melodyDegree !== undefined)) + left + why;
}

/** "5 left by the melody" */
const leftByMelodyText = (degrees: readonly string[]): string =>
  `${degrees.join(" and ")} left by the melody`;

const ATTACK_TEXTS: Readonly<Record<Attack, (supports: string) => string>> = {
  struck: (supports) => `struck with ${supports}`,
  held: (supports) => `over ${supports} ringing on`,
  single: () => "alone",
  under: (supports) => `ringing on over ${supports}, struck now`,
};

const supportsText = (degrees: readonly string[], hasMelody: boolean): string =>
  (hasMelody ? degrees.slice(0, -1) : degrees).join(" ") || "its chord";

const placesText = (notes: readonly NoteReport[]): string =>
  notes.map(({ string, fret, finger }) => `${string}:${fret}${finger === 0 ? "" : `-${finger}`}`).join(" ") ||
  "no string";

const shapeText = ({ shape }: EventReport | AlternativeReport): string =>
  shape === undefined ? "" : ` (${shapeName(shape)})`;

function leftOutText({ leftOut, voicesLeftOut = [] }: EventReport): string {
  const without = [
    ...leftOut.map(({ degree, reason }) => `${degree} (${LEFT_OUT_TEXTS[reason]})`),
    ...voicesLeftOut.map(voiceLeftOutText),
  ];
  return without.length === 0 ? "" : ` Without ${without.join(", ")}.`;
}

function rightHandText({ plucked, damped }: EventReport): string {
  if (plucked !== undefined) return ` Plucked ${plucked.map(({ finger }) => finger).join(" ")}.`;
  return damped === undefined ? "" : ` Brushed through damped ${damped.join(" ")}.`;
}

function moveText({ moveMm, secondsAvailable, mmPerSecond }: EventReport): string {
  if (moveMm === undefined || secondsAvailable === undefined) return "";
  if (moveMm < 0.5) return " The hand stays.";
  const speed = mmPerSecond === undefined ? "" : ` (${mmPerSecond.toFixed(0)} mm/s)`;
  return ` Then ${moveMm.toFixed(0)} mm in ${secondsAvailable.toFixed(2)} s${speed}.`;
}

const alternativeText = (other: AlternativeReport): string => {
  const { attack, degrees, notes, extraCost } = other;
  return `${ALTERNATIVE_TEXTS[attack]}${attack === "single" ? "" : ` ${degrees.join(" ")}`} at ${placesText(notes)}${shapeText(other)} (+${extraCost})`;
};

const ALTERNATIVE_TEXTS: Readonly<Record<Attack, string>> = {
  struck: "struck",
  held: "ringing on",
  single: "alone",
  under: "struck under it",
};
