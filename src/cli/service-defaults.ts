/** Where the service listens if nothing else is said. A port that no well-known service has. */
export const USUAL_PORT = 8713;

/** In place of the flag: other people on the machine can see a command line, but not an environment. */
export const TOKEN_VARIABLE = "UNDERVOICE_TOKEN";
