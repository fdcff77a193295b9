export const MUSICXML = "application/vnd.recordare.musicxml+xml";
export const COMPRESSED_MUSICXML = "application/vnd.recordare.musicxml";
export const JSON_TYPE = "application/json";

/**
 * Content types a score may come as. A page of somebody else can send none of them without asking first;
 * what it is decided by its bytes all the same.
 */
export const SCORE_TYPES: readonly string[] = [
  MUSICXML,
  COMPRESSED_MUSICXML,
  "application/xml",
  "text/xml",
  "application/zip",
  "application/octet-stream",
];

/** A score and its options in one body. multipart/form-data is none of them: any page can send that. */
export const MULTIPART_TYPES: readonly string[] = ["multipart/mixed", "multipart/related"];
