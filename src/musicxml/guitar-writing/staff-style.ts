/** How one staff of the guitar shows the music; all staves show the same. */
export interface StaffStyle {
  /** Strings and frets on lines, in place of noteheads. */
  readonly isTab: boolean;
  /** Carries what is shown once: chord symbols, words, fingers, lyrics, beams. The other staff is silent. */
  readonly isMain: boolean;
  /** Number of the staff within its part; undefined where the part has one staff only. */
  readonly staff: number | undefined;
  /** Voice number of the melody on this staff; voice 2 of the music has the next number. */
  readonly melodyVoice: number;
}

const style = (isTab: boolean, isMain: boolean, staff?: number, melodyVoice = 1): StaffStyle => ({
  isTab,
  isMain,
  staff,
  melodyVoice,
});

/** A part of the guitar: its name and its staves from the top. */
export interface GuitarPart {
  readonly name: string;
  readonly abbreviation: string;
  readonly staves: readonly StaffStyle[];
}

const NOTATION_NAME = { name: "Guitar", abbreviation: "Gtr." };
const TAB_NAME = { name: "Guitar TAB", abbreviation: "TAB" };

/**
 * The parts of each layout. On the second of two staves voices have numbers of their own, because some
 * programs merge voices of one number across the staves of a part.
 */
export const PARTS_OF_LAYOUT: Readonly<Record<"parts" | "joined" | "tab", readonly GuitarPart[]>> = {
  parts: [
    { ...NOTATION_NAME, staves: [style(false, true)] },
    { ...TAB_NAME, staves: [style(true, false)] },
  ],
  joined: [{ ...NOTATION_NAME, staves: [style(false, true, 1), style(true, false, 2, 5)] }],
  tab: [{ ...TAB_NAME, staves: [style(true, true)] }],
};
