/** How much of a file is read before it is refused. Far above any score, far below what hurts. */
export const FILE_LIMITS = {
  /** A file that is no zip. */
  plainBytes: 20_000_000,
  /** A zip as it arrives. */
  zippedBytes: 10_000_000,
  /** Everything inflated from one zip, counted as it comes out. */
  unzippedBytes: 64_000_000,
  /** Files listed in one zip. */
  zipEntries: 2_000,
  /** Elements inside elements. MusicXML needs about a dozen. */
  elementDepth: 64,
  elements: 2_000_000,
} as const;
