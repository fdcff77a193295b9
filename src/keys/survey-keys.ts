import type { SurveyedPlace } from "../arrangement/surveyed-place.js";
import type { TuneWishes } from "../arranging/arrange-settings.js";
import { bassInReach } from "../arranging/bass/bass-in-reach.js";
import { withBass } from "../arranging/bass/with-bass.js";
import type { Findings } from "../diagnostics.js";
import { readLeadSheet } from "../musicxml/lead-sheet/read-lead-sheet.js";
import { withOneTune } from "../musicxml/lead-sheet/several-tunes.js";
import type { ArrangeOptions } from "../options/options.js";
import { noKeyFits } from "../reporting/key-findings.js";
import {
  type KeptVoices,
  type KeyEntry,
  type KeySurvey,
  type PlaceReport,
  placeReport,
  tonicText,
} from "../reporting/key-survey-report.js";
import { tuneWishesFrom } from "../settings-from-options.js";
import { keyName } from "../song/key-name.js";
import { mod12 } from "../song/pitch.js";
import { type Transposition, transposedTune } from "../song/transposition.js";
import type { Tune } from "../song/tune.js";
import type { XmlDocument } from "../xml/xml-tree.js";
import { atEachOctave, notesOutside, TO_EACH_KEY, transpositionBy } from "./choose-key.js";
import { capoFor, surveyedPlaces } from "./key-survey.js";

/**
 * What a lead sheet would be like to play in each of the twelve keys: the one that costs the hand least
 * first, those in which the melody does not lie on its strings last. `--key best` takes the first. Pure, but for
 * `found`, which hears of each key and octave as it is worked out.
 *
 * @throws ScoreError where the score holds no tune
 */
export function surveyKeys(
  document: XmlDocument,
  options: ArrangeOptions,
  findings: Findings,
  found?: (key: string, place: PlaceReport) => void,
): KeySurvey {
  const { root } = withOneTune(document, options.tune, findings);
  const { tune } = readLeadSheet(root, options, findings);
  const wishes = tuneWishesFrom(options);
  const key = tune.keys[0] ?? { at: 0, fifths: 0, mode: undefined };
  const reports = new Map<Transposition, PlaceReport>();
  const surveyed = (place: SurveyedPlace) => {
    const { transposition } = place;
    const report = placeReport(tune, place, options.tempo, voicesKept(tune, transposition, wishes));
    reports.set(transposition, report);
    found?.(keyName(key, transposition.interval), report);
  };
  const places = surveyedPlaces(tune, wishes, surveyed);
  const inKey = (semitones: number) =>
    places.filter((one) => mod12(one.transposition.semitones - semitones) === 0);
  if (places.length === 0) findings.add(noKeyFits(tune));
  const entries = TO_EACH_KEY.map((semitones): KeyEntry => {
    const here = inKey(semitones);
    const { interval } = transpositionBy(tune, semitones);
    const named = { key: keyName(key, interval), option: tonicText(key, interval), fits: here.length > 0 };
    const [best] = here;
    if (best === undefined) {
      const strays = atEachOctave(semitones).map((moved) => notesOutside(tune, wishes, moved).length);
      return { ...named, notesOutside: Math.min(...strays), places: [] };
    }
    const capo = capoFor(tune, best, places, wishes);
    return {
      ...named,
      places: here.flatMap(({ transposition }) => reports.get(transposition) ?? []),
      ...(capo === undefined
        ? {}
        : {
            capo: {
              fret: capo.capo,
              shapes: keyName(key, capo.shapes.interval),
              cost: capo.cost,
            },
          }),
    };
  });
  return {
    ...(tune.title === undefined ? {} : { title: tune.title }),
    key: keyName(key),
    // Of equal ones, and of those that do not fit, the nearest first, which is how they came.
    keys: entries.toSorted((one, other) => costOf(one) - costOf(other)),
    findings: findings.all,
  };
}

/** The voices to be kept where the tune is moved so: its own, or those of a bass under it. */
function voicesKept(
  tune: Tune,
  transposition: Transposition,
  { texture, bass, instrument }: TuneWishes,
): KeptVoices | undefined {
  if (texture !== "voices" && bass === "none") return undefined;
  const moved = transposedTune(tune, transposition);
  const { notes, outOfReach } = bassInReach(moved, bass, instrument);
  return { tune: withBass(moved, bass, instrument), bassNotes: notes, bassOutOfReach: outOfReach };
}

const costOf = ({ places }: KeyEntry): number => places[0]?.cost ?? Number.MAX_SAFE_INTEGER;
