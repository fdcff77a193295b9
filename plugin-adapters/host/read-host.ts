import type { SchemaFault } from "#built/json/validator.js";
import type { Host } from "./host.js";
import { fitsHost } from "./validators.js";

/** A manifest that cannot be used; a line for each thing wrong with it. */
export class HostError extends Error {
  readonly lines: readonly string[];

  constructor(lines: readonly string[]) {
    super(lines.join(" "));
    this.name = "HostError";
    this.lines = lines;
  }
}

/**
 * The one door where a manifest's text becomes a host.
 *
 * @throws HostError where it is no JSON, or says what a manifest cannot say
 */
export function readHost(json: string): Host {
  const value = parsed(json);
  if (fitsHost(value)) {
    const contradictions = contradictionsIn(value);
    if (contradictions.length === 0) return value;
    throw new HostError(contradictions);
  }
  throw new HostError([...new Set((fitsHost.errors ?? []).map(lineOf))]);
}

function parsed(json: string): unknown {
  try {
    return JSON.parse(json.replace(/^\uFEFF/, ""));
  } catch (error) {
    throw new HostError([`it is no JSON: ${(error as Error).message}`]);
  }
}

const contradictionsIn = ({ options, drops = [] }: Host): readonly string[] =>
  options?.diagrams === true && drops.includes("chord-diagrams")
    ? ['"options" asks for diagrams, and "drops" says that the program shows none']
    : [];

/** What is wrong, by the name of the field. */
function lineOf({ instancePath, keyword, params, message, data }: SchemaFault): string {
  const field = instancePath === "" ? "the manifest" : `"${instancePath.slice(1).replaceAll("/", ".")}"`;
  switch (keyword) {
    case "additionalProperties":
      return `${field} has no field "${params.additionalProperty}"`;
    case "required":
      return `${field} lacks "${params.missingProperty}"`;
    case "discriminator":
      return `"kind" is folder, command or script, not ${JSON.stringify(params.tagValue)}`;
    case "enum":
      return `${field} is one of ${(params.allowedValues as readonly unknown[]).join(", ")}, not ${JSON.stringify(data)}`;
    default:
      return `${field} ${message}, and is ${JSON.stringify(data)}`;
  }
}
