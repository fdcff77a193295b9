/** The fingers of the left hand: 1 index, 2 middle, 3 ring, 4 little; 0 is an open string. */
export type Finger = 0 | 1 | 2 | 3 | 4;
