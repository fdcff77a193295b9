import type { Finding, Place } from "../diagnostics.js";
import type { SchemaFault } from "../json/validator.js";
import {
  fitsAvoid,
  fitsGrip,
  fitsMelody,
  fitsPlay,
  fitsTexture,
  fitsWishesFile,
} from "../json/validators.js";
import { placeOfWish } from "./place-of-wish.js";
import type { WishesFile } from "./wishes-file.js";

/** The wishes cannot be read; one finding for each thing wrong. */
export class WishesError extends Error {
  readonly findings: readonly Finding[];

  constructor(findings: readonly Finding[]) {
    super(findings.map((finding) => finding.message).join(" "));
    this.name = "WishesError";
    this.findings = findings;
  }
}

/** Each wish is checked by its own kind, so that a message speaks of one kind and not of all four. */
const FITS_KIND = {
  grip: fitsGrip,
  play: fitsPlay,
  avoid: fitsAvoid,
  texture: fitsTexture,
  melody: fitsMelody,
} as const;

type Kind = keyof typeof FITS_KIND;
const KINDS = Object.keys(FITS_KIND) as readonly Kind[];

/**
 * Wishes from the text of a file.
 *
 * @throws WishesError where it is not JSON or not what `WISHES_SCHEMA` describes
 */
export function readWishes(text: string): WishesFile {
  let given: unknown;
  try {
    given = JSON.parse(text.replace(/^\uFEFF/, ""));
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    const message = `The wishes are not JSON: ${why}.`;
    throw new WishesError([finding("wishes-unreadable", {}, "text that is not JSON", "JSON", message)]);
  }
  return checkedWishes(given);
}

/** @throws WishesError where something is not what `WISHES_SCHEMA` describes */
export function checkedWishes(given: unknown): WishesFile {
  if (!fitsWishesFile(given))
    throw new WishesError((fitsWishesFile.errors ?? []).map((error) => wrong("The file", {}, error)));
  const file = given as unknown as WishesFile;
  const findings = file.wishes.flatMap((wish, index) => faultsOf(wish, `Wish ${index + 1}`));
  if (findings.length > 0) throw new WishesError(findings);
  return file;
}

function faultsOf(wish: object, who: string): readonly Finding[] {
  const place = placeOfWish(wish);
  const named = KINDS.filter((kind) => kind in wish);
  const [kind] = named;
  if (kind === undefined || named.length > 1) {
    const found = named.length === 0 ? Object.keys(wish).join(", ") || "nothing" : named.join(" and ");
    return [
      finding(
        "wish-unreadable",
        place,
        found,
        `one of ${KINDS.join(", ")}`,
        `${who} has ${named.length === 0 ? "none" : "more than one"} of ${KINDS.join(", ")}; it needs one.`,
      ),
    ];
  }
  const fits = FITS_KIND[kind];
  return fits(wish) ? [] : (fits.errors ?? []).map((error) => wrong(who, place, error));
}

/** "Wish 3: /grip/0/fret is "three"; it must be integer." */
function wrong(who: string, place: Place, error: SchemaFault): Finding {
  const where = error.instancePath.slice(1).replaceAll("/", ".");
  const what = where === "" ? "" : ` at ${where}`;
  const found = JSON.stringify(error.data) ?? "nothing";
  if (error.keyword === "additionalProperties") {
    const name = String(error.params.additionalProperty);
    return finding(
      "wish-unreadable",
      place,
      name,
      "a field there is",
      `${who} has a field "${name}"${what} that there is not.`,
    );
  }
  if (error.keyword === "required") {
    const name = String(error.params.missingProperty);
    return finding("wish-unreadable", place, found, name, `${who} lacks the field "${name}"${what}.`);
  }
  const allowed =
    error.keyword === "enum"
      ? `must be one of ${(error.params.allowedValues as readonly unknown[]).join(", ")}`
      : (error.message ?? "differs");
  return finding("wish-unreadable", place, found, allowed, `${who}${what}: ${found} ${allowed}.`);
}

const finding = (rule: string, place: Place, found: string, expected: string, message: string): Finding => ({
  rule,
  severity: "error",
  place,
  found,
  expected,
  message,
});
