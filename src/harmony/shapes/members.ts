import { mod12 } from "../../song/pitch.js";
import type { FamilyDescription, Slot } from "./families.js";
import type { SlotTone, SlotTones } from "./slots.js";

/** Tones from the lowest voice up, the melody last. */
type Member = readonly SlotTone[];

/** Every member of a family under one melody note: each slot with each tone that may fill it. */
export function membersOf(
  description: FamilyDescription,
  slots: SlotTones,
  toneAt: ToneAt,
): readonly Member[] {
  if ("intervals" in description) {
    const member = stacked(description.intervals, slots.melody, toneAt);
    return member === undefined ? [] : [member];
  }
  const members =
    "opened" in description
      ? closedPositions(description.slots, slots).map((closed) => opened(description.opened, closed, slots))
      : listed(description.voices, slots);
  const voicesApart = new Set<unknown>("opened" in description ? description.opened : description.voices)
    .size;
  return members.filter((member) => new Set(member.map((tone) => tone.offset)).size >= voicesApart);
}

/** What the chord calls a distance above its root; undefined where it is no tone that a shape may hold. */
export type ToneAt = (offset: number) => SlotTone | undefined;

/** The slots' tones closed up under the melody, which takes its own slot; from the lowest up. */
function closedPositions(of: readonly Slot[], { tones, melody, melodySlot }: SlotTones): readonly Member[] {
  if (melodySlot === undefined || !of.includes(melodySlot)) return [];
  const others = of.filter((slot) => slot !== melodySlot).map((slot) => tones[slot]);
  const under = (tone: SlotTone) => mod12(melody.offset - tone.offset);
  return everyChoice(others).map((chosen) => [...[...chosen].sort((a, b) => under(b) - under(a)), melody]);
}

function opened(places: readonly number[], closed: Member, { tones, melodySlot }: SlotTones): Member {
  const top = closed.length - 1;
  const own = melodySlot === undefined ? undefined : tones[melodySlot][0];
  return places.flatMap((place, voice) => {
    const isDoubledBelow = place === top && voice < places.length - 1;
    return (isDoubledBelow ? own : closed[place]) ?? [];
  });
}

/** Voices named one by one; the highest is the melody, in a slot of its own or above the others. */
function listed(
  voices: readonly (Slot | "melody")[],
  { tones, melody, melodySlot }: SlotTones,
): readonly Member[] {
  const top = voices.at(-1);
  const below = voices.slice(0, -1).filter((voice) => voice !== "melody");
  const isInPlace =
    top === "melody" ? !isGuide(melodySlot) || !below.includes(melodySlot) : top === melodySlot;
  if (!isInPlace) return [];
  // The root of a shell is the root: no ninth stands there.
  const choices = below.map((slot) =>
    slot === "root" ? tones.root.filter((tone) => tone.offset === 0) : tones[slot],
  );
  return everyChoice(choices).map((chosen) => [...chosen, melody]);
}

const isGuide = (slot: Slot | undefined): slot is "third" | "seventh" =>
  slot === "third" || slot === "seventh";

function stacked(intervals: readonly number[], melody: SlotTone, toneAt: ToneAt): Member | undefined {
  const voices = [melody];
  for (const interval of intervals.toReversed()) {
    const tone = toneAt(mod12((voices[0]?.offset ?? 0) - interval));
    if (tone === undefined) return undefined;
    voices.unshift(tone);
  }
  return voices;
}

function everyChoice(lists: readonly (readonly SlotTone[])[]): readonly Member[] {
  let chosen: readonly Member[] = [[]];
  for (const list of lists) chosen = chosen.flatMap((one) => list.map((tone) => [...one, tone]));
  return chosen;
}
