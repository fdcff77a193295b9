import type { Placement } from "../arrangement/arrangement.js";
import type { GraceNote, GracePlace } from "../arranging/grace-placements.js";
import type { Findings } from "../diagnostics.js";
import type { Instrument } from "../guitar/instrument.js";
import type { Tune } from "../song/tune.js";
import { editKept, placeAt } from "./edit-findings.js";
import { type ReturnedPart, returnedNotes } from "./guitar-part-notes.js";
import { uneditedAt } from "./unedited-measures.js";

/**
 * The places of grace notes that came back, by the grace note's id, where they sound what the lead sheet
 * has: all of them where the rest of the guitar part stays too, else those that the player changed.
 * `written` are the places before that; `tune` lies where the guitar plays it.
 */
export function keptGraces(
  graces: readonly GraceNote[],
  written: ReadonlyMap<number, Placement>,
  tune: Tune,
  returned: ReturnedPart,
  instrument: Instrument,
  findings: Findings,
): ReadonlyMap<number, GracePlace> {
  const left = [...returnedNotes(returned.guitar, tune, instrument, "grace")];
  const kept = new Map<number, GracePlace>();
  if (left.length === 0) return kept;
  const isUnedited = uneditedAt(returned, tune, instrument);
  for (const { id, onset, midi } of graces) {
    const index = left.findIndex(
      (note) => note.onset === onset && note.midi === midi && note.placeMidi === midi,
    );
    const [{ string, fret, finger } = {}] = index < 0 ? [] : left.splice(index, 1);
    if (string === undefined || fret === undefined) continue;
    const before = written.get(id);
    const isMoved = before?.string !== string || before.fret !== fret;
    const isFingerOwn = finger !== undefined && finger !== before?.finger;
    const isChanged = isMoved || isFingerOwn;
    if (!isChanged && !returned.isRestKept) continue;
    // A finger that was written for another place gives way.
    kept.set(id, { string, fret, finger: isFingerOwn ? finger : isMoved ? undefined : before.finger });
    if (!isChanged || isUnedited(onset)) continue;
    const place = { string, fret, ...(isFingerOwn ? { finger } : {}) };
    findings.add(editKept(placeAt(tune, onset), before === undefined ? [] : [before], [place]));
  }
  return kept;
}
