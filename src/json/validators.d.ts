/**
 * Checks of JSON made from our schemas by ajv when the program is built (`build/make-validators.mjs`), so that
 * no schema is compiled while it runs: it starts quicker, and runs where code may not be made from text.
 */
import type { Validator } from "./validator.js";

export const fitsBatchSummary: Validator;
export const fitsOptions: Validator;
export const fitsWishesFile: Validator;
/** One for each kind of wish. */
export const fitsGrip: Validator;
export const fitsPlay: Validator;
export const fitsAvoid: Validator;
export const fitsTexture: Validator;
export const fitsMelody: Validator;
