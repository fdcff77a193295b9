import { deflateSync, type UnzipDecoder, type UnzipDecoderConstructor, UnzipInflate } from "fflate";

/**
 * The one door to DEFLATE (RFC 1951). Where the program runs in Node its own zlib is quicker; elsewhere, as in a
 * browser, the package does it. What comes out of the one is read by the other.
 */

/** As much of Node's zlib as is used here. */
interface Zlib {
  deflateRawSync(bytes: Uint8Array): Uint8Array;
  inflateRawSync(bytes: Uint8Array, limits: { readonly maxOutputLength: number }): Uint8Array<ArrayBuffer>;
  /** From Node 20.15 on. */
  crc32?(bytes: Uint8Array): number;
}

/** Node's zlib, where there is one. Asked of the process, and not imported: a bundle for the browser then needs nothing in its place. */
export function zlib(): Zlib | undefined {
  const { process } = globalThis as { process?: { getBuiltinModule?(name: string): unknown } };
  return process?.getBuiltinModule?.("node:zlib") as Zlib | undefined;
}

export const deflated = (bytes: Uint8Array): Uint8Array => (zlib() ?? PACKAGE).deflateRawSync(bytes);

const PACKAGE: Pick<Zlib, "deflateRawSync"> = { deflateRawSync: (bytes) => deflateSync(bytes) };

/** The zip's number for deflated entries: APPNOTE.TXT 6.3.10, 4.4.5. */
const DEFLATED = 8;

/**
 * What inflates the entries of a zip.
 *
 * @param mostBytes how much more may come out; once there is more, `tooMuch` is called, which throws
 */
export function inflater(mostBytes: () => number, tooMuch: () => never): UnzipDecoderConstructor {
  const native = zlib();
  if (native === undefined) return UnzipInflate;
  return class implements UnzipDecoder {
    static readonly compression = DEFLATED;
    ondata: UnzipDecoder["ondata"] = () => {};
    readonly #chunks: Uint8Array[] = [];

    push(chunk: Uint8Array, isLast: boolean): void {
      this.#chunks.push(chunk.slice());
      if (!isLast) return;
      this.ondata(null, this.#inflated(native), true);
    }

    #inflated(by: Zlib): Uint8Array<ArrayBuffer> {
      try {
        return by.inflateRawSync(joined(this.#chunks), { maxOutputLength: Math.max(1, mostBytes()) });
      } catch (error) {
        if ((error as { code?: unknown }).code === "ERR_BUFFER_TOO_LARGE") tooMuch();
        throw error;
      }
    }
  };
}

/** Bytes in one piece. */
export function joined(chunks: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(chunks.reduce((sum, chunk) => sum + chunk.length, 0));
  let at = 0;
  for (const chunk of chunks) {
    whole.set(chunk, at);
    at += chunk.length;
  }
  return whole;
}
