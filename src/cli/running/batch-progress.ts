import type { BatchRow } from "../../batch/batch-row.js";
import { oneLine } from "../../one-line.js";

/** Between two lines where nobody watches, in milliseconds: a log stays readable. */
const LINE_EACH_MS = 10_000;
/** Between two pictures of the bar on a terminal. */
const BAR_EACH_MS = 100;
const BAR_SIGNS = 24;

export interface Progress {
  onRow(row: BatchRow, isKept: boolean): void;
  end(): void;
}

/** A bar with rate and time left on a terminal, a line now and then elsewhere; what goes wrong at once on both. */
export function batchProgress(
  total: number,
  { isTerminal, now, say }: { isTerminal: boolean; now: () => number; say: (text: string) => void },
): Progress {
  const begun = now();
  let done = 0;
  let worked = 0;
  let lastSaid = begun;
  const wipe = isTerminal ? "\r\u001b[K" : "";
  return {
    onRow({ input, outcome, says }, isKept) {
      done += 1;
      if (!isKept) worked += 1;
      if (outcome !== "arranged" && !isKept) say(`${wipe}${oneLine(`${input}: ${says[0] ?? outcome}`)}\n`);
      const at = now();
      if (at - lastSaid < (isTerminal ? BAR_EACH_MS : LINE_EACH_MS) && done < total) return;
      lastSaid = at;
      const rate = worked / Math.max(0.001, (at - begun) / 1000);
      const left = rate === 0 ? "" : `, ${durationText((total - done) / rate)} left`;
      const text = `${done} of ${total}, ${rate.toFixed(1)} a second${left}`;
      say(isTerminal ? `${wipe}${bar(done / total)} ${text}` : `${text}\n`);
    },
    end() {
      say(wipe);
    },
  };
}

const bar = (share: number): string => {
  const full = Math.round(share * BAR_SIGNS);
  return `[${"=".repeat(full)}${" ".repeat(BAR_SIGNS - full)}]`;
};

function durationText(seconds: number): string {
  const whole = Math.round(seconds);
  if (whole < 60) return `${whole} s`;
  if (whole < 3600) return `${Math.floor(whole / 60)} min ${whole % 60} s`;
  return `${Math.floor(whole / 3600)} h ${Math.floor((whole % 3600) / 60)} min`;
}
