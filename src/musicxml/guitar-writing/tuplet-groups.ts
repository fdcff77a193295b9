import { isWritable } from "./note-value.js";
import type { TupletGroup, VoiceItem } from "./voice-item.js";

/**
 * Tuplets of a voice: consecutive items of one ratio, closed as soon as together they last a plain
 * sum of values, which is where the count comes right again.
 */
export function tupletGroups(items: readonly VoiceItem[], ticksPerQuarter: number): readonly TupletGroup[] {
  const groups: TupletGroup[] = [];
  let open: TupletGroup | undefined;
  for (const item of items) {
    if (item.kind === "grace") continue;
    const ratio = item.value?.ratio;
    const isSame = open?.ratio.actual === ratio?.actual && open?.ratio.normal === ratio?.normal;
    if (open !== undefined && !isSame) {
      groups.push(open);
      open = undefined;
    }
    if (ratio === undefined) continue;
    open = { start: open?.start ?? item.at, end: item.at + item.length, ratio };
    if (isWritable(open.end - open.start, ticksPerQuarter)) {
      groups.push(open);
      open = undefined;
    }
  }
  if (open !== undefined) groups.push(open);
  return groups;
}
