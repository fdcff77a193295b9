import { JOBS } from "../jobs/jobs.js";
import { description } from "./description.js";
import { health } from "./health.js";
import { options } from "./options.js";
import { overview } from "./overview.js";
import type { Resource } from "./resource.js";
import { scoreResource } from "./score-resource.js";

/** Every resource of the service. */
export const RESOURCES: readonly Resource[] = [
  overview,
  ...JOBS.map(scoreResource),
  options,
  health,
  description,
];
