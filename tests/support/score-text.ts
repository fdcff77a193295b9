/** MusicXML in short, for tests: four divisions a quarter note unless a measure says otherwise. */

const TYPES: Readonly<Record<number, string>> = {
  16: "<type>whole</type>",
  12: "<type>half</type><dot/>",
  8: "<type>half</type>",
  6: "<type>quarter</type><dot/>",
  4: "<type>quarter</type>",
  2: "<type>eighth</type>",
  1: "<type>16th</type>",
};

/** What a note may have beside its pitch and duration, in the order of the schema. */
export interface NoteExtras {
  readonly chord?: boolean;
  readonly before?: string;
  readonly alter?: string;
  readonly tie?: "start" | "stop" | "both";
  readonly voice?: number | string;
  readonly staff?: number;
  readonly type?: string;
  readonly after?: string;
  readonly attributes?: string;
}

/** A note such as "F#4" of so many divisions. */
export function note(name: string, duration: number | string, extras: NoteExtras = {}): string {
  const match = /^([A-G])([b#]*)(-?\d)$/.exec(name);
  if (match === null) throw new Error(`no note: ${name}`);
  const [, step, accidentals = "", octave] = match;
  const alter =
    extras.alter ??
    (accidentals === ""
      ? ""
      : String(accidentals.startsWith("b") ? -accidentals.length : accidentals.length));
  const pitch = `<pitch><step>${step}</step>${alter === "" ? "" : `<alter>${alter}</alter>`}<octave>${octave}</octave></pitch>`;
  return full(pitch, duration, extras);
}

export const rest = (duration: number | string, extras: NoteExtras = {}): string =>
  full("<rest/>", duration, extras);

function full(what: string, duration: number | string, extras: NoteExtras): string {
  const ties = { start: ["start"], stop: ["stop"], both: ["stop", "start"], none: [] }[extras.tie ?? "none"];
  return [
    `<note${extras.attributes === undefined ? "" : ` ${extras.attributes}`}>`,
    extras.before ?? "",
    extras.chord ? "<chord/>" : "",
    what,
    duration === "" ? "" : `<duration>${duration}</duration>`,
    ...ties.map((type) => `<tie type="${type}"/>`),
    extras.voice === undefined ? "" : `<voice>${extras.voice}</voice>`,
    extras.type ?? TYPES[Number(duration)] ?? "",
    extras.staff === undefined ? "" : `<staff>${extras.staff}</staff>`,
    extras.after ?? "",
    "</note>",
  ].join("");
}

/** A chord symbol: root, kind, and whatever follows the kind in the schema. */
export function harmony(root: string, kind = "major", after = "", attributes = ""): string {
  const [step = "C", ...accidentals] = root;
  const alter =
    accidentals.length === 0
      ? ""
      : `<root-alter>${accidentals[0] === "b" ? -accidentals.length : accidentals.length}</root-alter>`;
  return `<harmony${attributes === "" ? "" : ` ${attributes}`}><root><root-step>${step}</root-step>${alter}</root><kind>${kind}</kind>${after}</harmony>`;
}

export const offset = (divisions: number): string => `<offset>${divisions}</offset>`;
export const backup = (divisions: number | string): string =>
  `<backup><duration>${divisions}</duration></backup>`;
export const forward = (divisions: number | string): string =>
  `<forward><duration>${divisions}</duration></forward>`;

export const FOUR_FOUR = "<time><beats>4</beats><beat-type>4</beat-type></time>";

export const attributes = (inner: string, divisions: number | string = 4): string =>
  `<attributes><divisions>${divisions}</divisions>${inner}</attributes>`;

/** A bar; a string alone is its content, numbered by its place. */
export type Bar = string | { readonly number: string; readonly inner: string; readonly attributes?: string };

export interface PartText {
  readonly id?: string;
  readonly name?: string;
  readonly bars: readonly Bar[];
}

/** A score of whole parts. */
export function score(parts: readonly PartText[], head = ""): string {
  const id = (part: PartText, index: number) => part.id ?? `P${index + 1}`;
  const list = parts
    .map(
      (part, index) =>
        `<score-part id="${id(part, index)}"><part-name>${part.name ?? ""}</part-name></score-part>`,
    )
    .join("");
  const bodies = parts.map(
    (part, index) => `<part id="${id(part, index)}">${part.bars.map(barText).join("")}</part>`,
  );
  return `<score-partwise version="4.0">${head}<part-list>${list}</part-list>${bodies.join("")}</score-partwise>`;
}

const barText = (bar: Bar, index: number): string =>
  typeof bar === "string"
    ? `<measure number="${index + 1}">${bar}</measure>`
    : `<measure number="${bar.number}"${bar.attributes === undefined ? "" : ` ${bar.attributes}`}>${bar.inner}</measure>`;

/** One part in 4/4 with four divisions a quarter; the first bar gets the attributes. */
export const leadSheet = (...bars: readonly string[]): string =>
  score([{ bars: bars.map((bar, index) => (index === 0 ? attributes(FOUR_FOUR) + bar : bar)) }]);
