/**
 * What notation programs are known to lose of an imported guitar score, each with what follows from it. Measured
 * with open readers and writers of MusicXML; a manifest says which of them hold for its program.
 */
export const DROPS = {
  "own-mark": {
    loss: "It does not write out again that a score came from here.",
    advice: 'What it exports under a name that ends in "-guitar" is left alone, not arranged again.',
  },
  "chord-diagrams": {
    loss: "It shows no chord diagrams.",
    advice: 'The option "diagrams" stays off.',
  },
  "barre-lines": {
    loss: "It shows no line after the sign of a barre.",
    advice: "The sign itself says which fret; the TAB says how long.",
  },
  fingers: {
    loss: "It shows no fingers, or others than are written.",
    advice: 'The fingers stand in the report too: "undervoice arrange --report FILE".',
  },
  silence: {
    loss: "It plays the TAB staff although it is written as silent, so every note sounds twice.",
    advice: 'Mute the part "Guitar TAB" in it, or set "staves" to "tab".',
  },
} as const satisfies Readonly<Record<string, { readonly loss: string; readonly advice: string }>>;

export type Drop = keyof typeof DROPS;
