import { TIRING_BARRE_STRINGS } from "../../guitar/fingering.js";
import type { Candidate } from "./candidate.js";
import { highestStringOfUse, lowestStringOfUse } from "./finger-use.js";

/** Whether a finger bars so many strings that holding it tires the hand. */
export const isTiring = ({ fingerUses }: Pick<Candidate, "fingerUses">): boolean =>
  fingerUses.some((use) => lowestStringOfUse(use) - highestStringOfUse(use) + 1 >= TIRING_BARRE_STRINGS);
