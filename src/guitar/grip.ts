/** The fingers of the left hand: 1 index, 2 middle, 3 ring, 4 little; 0 is an open string. */
export type Finger = 0 | 1 | 2 | 3 | 4;

/** One sounding string of a grip. */
export interface GripNote {
  /** 1 is the highest string. */
  readonly string: number;
  /** From the nut or the capo; 0 is open. */
  readonly fret: number;
  readonly finger: Finger;
  readonly midi: number;
}

/** What a left hand holds at one moment: sounding strings from the lowest-pitched (highest number) up. */
export interface Grip {
  readonly notes: readonly GripNote[];
}
