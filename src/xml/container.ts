import { type Finding, ScoreError } from "../diagnostics.js";
import { FILE_LIMITS } from "./file-limits.js";
import { refuseOtherFiles } from "./not-a-score.js";
import { parseXml } from "./parse-xml.js";
import { printedBytes } from "./print-xml.js";
import { decodeText } from "./text-encoding.js";
import { zipOf } from "./write-zip.js";
import { attributeOf, everyNamed, type XmlDocument } from "./xml-tree.js";
import { isZip, openZip, type ZipArchive } from "./zip-archive.js";

const CONTAINER = "META-INF/container.xml";
const MEDIA_TYPE = "application/vnd.recordare.musicxml";

/** The score's XML as text, and what was odd about the file around it. */
export interface ScoreText {
  readonly text: string;
  readonly warnings: readonly Finding[];
  /** Whether the bytes were a compressed score (.mxl). */
  readonly isCompressed: boolean;
}

/**
 * Bytes of a .musicxml or .mxl file, told apart by content, to the text of the score.
 *
 * @throws ScoreError where there is no score in it, the zip is damaged or unsafe, or the encoding is wrong
 */
export function readScoreText(bytes: Uint8Array): ScoreText {
  if (bytes.length === 0) throw emptyFile();
  if (!isZip(bytes)) {
    if (bytes.length > FILE_LIMITS.plainBytes) throw tooLarge(bytes.length, FILE_LIMITS.plainBytes);
    refuseOtherFiles(bytes);
    return { ...decodeText(bytes), isCompressed: false };
  }
  if (bytes.length > FILE_LIMITS.zippedBytes) throw tooLarge(bytes.length, FILE_LIMITS.zippedBytes);
  const zip = openZip(bytes);
  const warnings: Finding[] = [];
  const decoded = decodeText(zip.read(scoreName(zip, warnings)));
  return { text: decoded.text, warnings: [...warnings, ...decoded.warnings], isCompressed: true };
}

/**
 * The text of a score, or its UTF-8, as a .mxl file: the media type first and stored, then the container, then
 * the score.
 */
export function compressedScore(xml: string | Uint8Array, scoreFileName = "score.musicxml"): Uint8Array {
  const container =
    '<?xml version="1.0" encoding="UTF-8"?>\n<container>\n  <rootfiles>\n' +
    `    <rootfile full-path="${scoreFileName.replace(/&/g, "&amp;").replace(/</g, "&lt;").replace(/"/g, "&quot;")}" ` +
    'media-type="application/vnd.recordare.musicxml+xml"/>\n  </rootfiles>\n</container>\n';
  const bytesOf = (text: string) => new TextEncoder().encode(text);
  return zipOf([
    { name: "mimetype", bytes: bytesOf(MEDIA_TYPE), isStored: true },
    { name: CONTAINER, bytes: bytesOf(container) },
    { name: scoreFileName, bytes: typeof xml === "string" ? bytesOf(xml) : xml },
  ]);
}

/** A score as the bytes of its file, .mxl or .musicxml. */
export function scoreFile(document: XmlDocument, isCompressed: boolean): Uint8Array {
  const xml = printedBytes(document);
  return isCompressed ? compressedScore(xml) : xml;
}

/** The name of the score's entry: the container's first root file, or the only score there is. */
function scoreName(zip: ZipArchive, warnings: Finding[]): string {
  const container = zip.names.find((name) => name === CONTAINER);
  if (container === undefined) return onlyScore(zip, "The zip has no META-INF/container.xml", warnings);
  let path: string | undefined;
  try {
    const { root } = parseXml(decodeText(zip.read(container)).text);
    const [first] = everyNamed(root, "rootfile");
    path = first === undefined ? undefined : attributeOf(first, "full-path");
  } catch (error) {
    if (!(error instanceof ScoreError) || !UNREADABLE_CONTAINER.has(error.finding.rule)) throw error;
    return onlyScore(zip, "The zip's META-INF/container.xml cannot be read", warnings);
  }
  if (path === undefined || path === "")
    return onlyScore(zip, "The zip's META-INF/container.xml names no score", warnings);
  if (/^[/\\]|^[A-Za-z]:|\\/.test(path) || path.split("/").includes("..")) throw unsafePath(path);
  const name = zip.names.find((entry) => entry === path || utf8Name(entry) === path);
  return (
    name ??
    onlyScore(zip, `The zip's META-INF/container.xml names "${path}", which is not in the zip`, warnings)
  );
}

const UNREADABLE_CONTAINER = new Set(["not-well-formed", "encoding-invalid", "encoding-unknown"]);

/** An entry name whose UTF-8 bytes were not marked as such and so were read a byte a sign. */
function utf8Name(name: string): string | undefined {
  const bytes = Uint8Array.from(name, (sign) => sign.charCodeAt(0));
  if (bytes.some((byte, index) => byte !== name.charCodeAt(index))) return undefined;
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return undefined;
  }
}

function onlyScore(zip: ZipArchive, why: string, warnings: Finding[]): string {
  const candidates = zip.names.filter(
    (name) =>
      /\.(musicxml|xml)$/i.test(name) &&
      !name.startsWith("META-INF/") &&
      !name.startsWith("__MACOSX/") &&
      !/(^|\/)\./.test(name),
  );
  const [only, ...others] = candidates;
  if (only === undefined || others.length > 0) throw noSingleScore(why, candidates);
  warnings.push({
    rule: "container-broken",
    severity: "warning",
    place: {},
    found: why,
    expected: "META-INF/container.xml with the path of the score",
    message: `${why}; the only score in it, "${only}", was read.`,
  });
  return only;
}

const noSingleScore = (why: string, candidates: readonly string[]) =>
  new ScoreError({
    rule: "container-broken",
    place: {},
    found: candidates.length === 0 ? "no score in the zip" : candidates.map((name) => `"${name}"`).join(", "),
    expected: "META-INF/container.xml with the path of the score",
    message:
      candidates.length === 0
        ? `${why}, and there is no score in it.`
        : `${why}, and there are several scores in it: ${candidates.map((name) => `"${name}"`).join(", ")}.`,
    hint: "Take the score out of the zip and give that file.",
  });

const unsafePath = (path: string) =>
  new ScoreError({
    rule: "container-path",
    place: {},
    found: `the path "${path}"`,
    expected: "a path inside the zip",
    message: `The container names the score by the path "${path}", which leads out of the zip.`,
  });

const tooLarge = (bytes: number, limit: number) =>
  new ScoreError({
    rule: "too-large",
    place: {},
    found: `${bytes} bytes`,
    expected: `at most ${limit} bytes`,
    message: `The file has ${bytes} bytes; ${limit} is the most that is read.`,
  });

const emptyFile = () =>
  new ScoreError({
    rule: "file-empty",
    place: {},
    found: "an empty file",
    expected: "MusicXML, plain or compressed",
    message: "The file is empty.",
  });
