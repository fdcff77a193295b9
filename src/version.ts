/** The name under which the program lists itself in a score. */
export const PROGRAM = "Undervoice";

/** As the package file has it. */
export const VERSION = "0.1.0";
