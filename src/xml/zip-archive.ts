import { Unzip, unzipSync } from "fflate";
import { ScoreError } from "../diagnostics.js";
import { inflater, joined } from "./deflate.js";
import { FILE_LIMITS } from "./file-limits.js";
import { crc32, statedChecksums } from "./zip-checksums.js";

/** Bytes fed at a time: one step can inflate to about a thousand times as much. */
const STEP_BYTES = 16_384;

/** A zip in memory: names first, contents one at a time and only when asked for. */
export interface ZipArchive {
  /** Files in the order of the zip's directory; folders left out. */
  readonly names: readonly string[];
  /** @throws ScoreError "too-large" once all that was inflated passes the cap; "zip-damaged", for a wrong checksum too */
  read(name: string): Uint8Array;
}

/** By content, never by name. */
export const isZip = (bytes: Uint8Array): boolean => bytes[0] === 0x50 && bytes[1] === 0x4b;

/**
 * Lists a zip. Nothing is inflated yet and nothing ever reaches the disk.
 *
 * @throws ScoreError "zip-damaged", "zip-entries"
 */
export function openZip(bytes: Uint8Array): ZipArchive {
  const entries: string[] = [];
  try {
    unzipSync(bytes, {
      filter: ({ name }) => {
        entries.push(name);
        return false;
      },
    });
  } catch (cause) {
    throw damaged(cause);
  }
  const names = entries.filter((name) => !name.endsWith("/"));
  if (names.length > FILE_LIMITS.zipEntries) throw tooManyEntries(names.length);
  const checksums = statedChecksums(bytes);
  let inflated = 0;
  const read = (wanted: string): Uint8Array => {
    const chunks: Uint8Array[] = [];
    let isFound = false;
    let isWhole = false;
    const stream = new Unzip((file) => {
      if (isFound || file.name !== wanted) return;
      isFound = true;
      file.ondata = (error, chunk, final) => {
        // The library hands an error thrown below back in here.
        if (error !== null) throw (error as Error) instanceof ScoreError ? error : damaged(error);
        inflated += chunk.length;
        // The size in the header may lie; only what comes out counts.
        if (inflated > FILE_LIMITS.unzippedBytes) throw tooLarge();
        chunks.push(chunk);
        isWhole ||= final;
      };
      file.start();
    });
    stream.register(
      inflater(
        () => FILE_LIMITS.unzippedBytes - inflated,
        () => {
          throw tooLarge();
        },
      ),
    );
    try {
      for (let at = 0; at < bytes.length && !isWhole; at += STEP_BYTES)
        stream.push(bytes.subarray(at, at + STEP_BYTES), at + STEP_BYTES >= bytes.length);
    } catch (cause) {
      throw cause instanceof ScoreError ? cause : damaged(cause);
    }
    if (!isWhole) throw damaged(undefined);
    const content = joined(chunks);
    const stated = checksums.filter((_, index) => entries[index] === wanted);
    if (stated.length > 0 && !stated.includes(crc32(content))) throw wrongChecksum(wanted);
    return content;
  };
  return { names, read };
}

const damaged = (cause: unknown) =>
  new ScoreError({
    rule: "zip-damaged",
    place: {},
    found: cause instanceof Error ? cause.message : "an entry that ends too early",
    expected: "a whole zip",
    message: "The zip is cut off or damaged.",
    hint: "Export the file again.",
  });

const wrongChecksum = (name: string) =>
  new ScoreError({
    rule: "zip-damaged",
    place: {},
    found: `"${name}" with another checksum than the zip states`,
    expected: "the file as it was packed",
    message: `The zip is damaged: "${name}" in it is not what was packed.`,
    hint: "Export the file again.",
  });

const tooLarge = () =>
  new ScoreError({
    rule: "too-large",
    place: {},
    found: `more than ${FILE_LIMITS.unzippedBytes} bytes when unpacked`,
    expected: `at most ${FILE_LIMITS.unzippedBytes} bytes`,
    message: `The zip holds more than ${FILE_LIMITS.unzippedBytes} bytes of score.`,
  });

const tooManyEntries = (count: number) =>
  new ScoreError({
    rule: "zip-entries",
    place: {},
    found: `${count} files in the zip`,
    expected: `at most ${FILE_LIMITS.zipEntries}`,
    message: `The zip lists ${count} files, more than any score needs.`,
  });
