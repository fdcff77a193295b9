/** What the program tells the one who called it. The README's table is made from this one. */
export const EXIT_CODES = {
  done: { code: 0, meaning: "Done; there may be warnings." },
  scoreRefused: { code: 1, meaning: "The score cannot be read or arranged. Nothing was written." },
  wronglyAsked: {
    code: 2,
    meaning:
      "The command line asks for something there is not, or for things that contradict. Nothing was written.",
  },
  fileTrouble: { code: 3, meaning: "A file cannot be read or written. No file is left half-written." },
  scoreFaulty: {
    code: 4,
    meaning: "The score was checked, and something in it is wrong or cannot be played.",
  },
  someNotArranged: {
    code: 5,
    meaning: "Of a batch, some scores were not arranged; the summary says which and why.",
  },
  interrupted: {
    code: 130,
    meaning: "A batch was interrupted; what was begun was finished, and --resume goes on.",
  },
  ownMistake: { code: 70, meaning: "A mistake in the program itself. Please report it with the score." },
} as const;

export type Outcome = keyof typeof EXIT_CODES;
