import { arrangements } from "./arrangements.js";
import { checks } from "./checks.js";
import type { Job } from "./job.js";
import { keySurveys } from "./key-surveys.js";

/** Everything the service does with a score. */
export const JOBS: readonly Job[] = [arrangements, keySurveys, checks];
