import { type Letter, midiPitch } from "../../src/song/pitch.js";
import {
  attributeOf,
  childNamed,
  childrenNamed,
  childText,
  element,
  elementsOf,
  withAttribute,
  withChildren,
  withElements,
  withoutChildrenNamed,
  type XmlElement,
} from "../../src/xml/xml-tree.js";

/** What a notation program, or a person in one, does to a score: each a function from root to root. */
export type Change = (root: XmlElement) => XmlElement;

export const inTurn =
  (...changes: readonly Change[]): Change =>
  (root) =>
    changes.reduce((score, change) => change(score), root);

/** A note by part id, measure (by position, from 1), beat, and pitch ("G4") or place ("2/8"). */
export type Where = readonly [part: string, measure: number, beat: number, which: string];

export const inPart =
  (id: string, change: Change): Change =>
  (root) =>
    withElements(root, (part) =>
      part.name === "part" && attributeOf(part, "id") === id ? change(part) : part,
    );

export const inEveryPart =
  (change: Change): Change =>
  (root) =>
    withElements(root, (part) => (part.name === "part" ? change(part) : part));

export const inMeasures =
  (change: (measure: XmlElement, index: number) => XmlElement | undefined): Change =>
  (part) => {
    let index = -1;
    return withElements(part, (measure) => {
      if (measure.name !== "measure") return measure;
      index += 1;
      return change(measure, index);
    });
  };

export const everyNote = (change: (note: XmlElement) => XmlElement | undefined): Change =>
  inEveryPart(
    inMeasures((measure) => withElements(measure, (one) => (one.name === "note" ? change(one) : one))),
  );

/** Changes the children of a measure one by one, each with its beat; several may come of one. */
function atBeats(
  measure: XmlElement,
  divisions: number,
  change: (child: XmlElement, beat: number) => readonly XmlElement[],
): XmlElement {
  let at = 0;
  let last = 0;
  const children = elementsOf(measure).flatMap((child) => {
    const duration = Number(childText(child, "duration") ?? 0) / divisions;
    const isChord = childNamed(child, "chord") !== undefined;
    const isGrace = childNamed(child, "grace") !== undefined;
    const beat = 1 + (isChord ? last : at);
    if (child.name === "backup") at -= duration;
    else if ((child.name === "note" && !isGrace) || child.name === "forward") {
      if (!isChord) {
        last = at;
        at += duration;
      }
    }
    return change(child, beat);
  });
  return withChildren(measure, children);
}

const divisionsOf = (part: XmlElement): number =>
  Number(
    [...childrenNamed(part, "measure")].flatMap((measure) =>
      childrenNamed(measure, "attributes").flatMap((one) => childText(one, "divisions") ?? []),
    )[0],
  );

const isNote = (child: XmlElement, which: string): boolean =>
  child.name === "note" && (pitchOf(child) === which || placeOf(child) === which);

export function pitchOf(note: XmlElement): string | undefined {
  const pitch = childNamed(note, "pitch");
  if (pitch === undefined) return undefined;
  const alter = Number(childText(pitch, "alter") ?? 0);
  return `${childText(pitch, "step")}${alter < 0 ? "b".repeat(-alter) : "#".repeat(alter)}${childText(pitch, "octave")}`;
}

const technicalOf = (note: XmlElement): XmlElement | undefined => {
  const notations = childNamed(note, "notations");
  return notations && childNamed(notations, "technical");
};

function placeOf(note: XmlElement): string | undefined {
  const technical = technicalOf(note);
  return technical && `${childText(technical, "string")}/${childText(technical, "fret")}`;
}

/** Changes one note, or takes it away; where it stood alone, its time stays. */
export const changeNote =
  ([part, measure, beat, which]: Where, change: (note: XmlElement) => XmlElement | undefined): Change =>
  (root) => {
    let found = 0;
    const changed = inPart(part, (one) =>
      inMeasures((here, index) =>
        index + 1 !== measure
          ? here
          : atBeats(here, divisionsOf(one), (child, at) => {
              if (Math.abs(at - beat) > 1e-6 || !isNote(child, which)) return [child];
              found += 1;
              const after = change(child);
              if (after !== undefined) return [after];
              const takesTime = childNamed(child, "chord") === undefined;
              return takesTime ? [element("forward", {}, [...childrenNamed(child, "duration")])] : [];
            }),
      )(one),
    )(root);
    if (found === 0) throw new Error(`no note ${which} in measure ${measure}, beat ${beat} of ${part}`);
    return changed;
  };

export const deleteNote = (where: Where): Change => changeNote(where, () => undefined);

const STEPS: Readonly<Record<Letter, true>> = {
  C: true,
  D: true,
  E: true,
  F: true,
  G: true,
  A: true,
  B: true,
};

export function pitchElement(name: string): XmlElement {
  const [, step = "C", alter = "", octave = "4"] = /^([A-G])([#b]*)(\d)$/.exec(name) ?? [];
  if (!(step in STEPS)) throw new Error(`no pitch: ${name}`);
  const semitones = alter.startsWith("b") ? -alter.length : alter.length;
  return element("pitch", {}, [
    element("step", {}, [step]),
    ...(semitones === 0 ? [] : [element("alter", {}, [semitones])]),
    element("octave", {}, [octave]),
  ]);
}

export const withPitch =
  (name: string) =>
  (note: XmlElement): XmlElement =>
    withElements(note, (child) =>
      child.name === "pitch" ? pitchElement(name) : child.name === "accidental" ? undefined : child,
    );

export const withTechnical =
  (values: Readonly<Record<string, number>>) =>
  (note: XmlElement): XmlElement =>
    withElements(note, (child) =>
      child.name !== "notations"
        ? child
        : withElements(child, (one) =>
            one.name !== "technical"
              ? one
              : withElements(one, (mark) => {
                  const value = values[mark.name];
                  return value === undefined ? mark : element(mark.name, {}, [value]);
                }),
          ),
    );

/** A fret typed into the TAB: the program sets the pitch beside it. */
export const withPlace =
  (string: number, fret: number, openStrings = [64, 59, 55, 50, 45, 40]) =>
  (note: XmlElement): XmlElement => {
    const pitch = midiPitch((openStrings[string - 1] ?? 0) + fret);
    const name = `${pitch.letter}${pitch.alter < 0 ? "b" : pitch.alter > 0 ? "#" : ""}${pitch.octave}`;
    return withTechnical({ string, fret })(withPitch(name)(note));
  };

/** Adds a note to the chord in which a note stands; it lasts as long. */
export const addToChord =
  ([part, measure, beat, which]: Where, change: (note: XmlElement) => XmlElement): Change =>
  (root) =>
    inPart(part, (one) =>
      inMeasures((here, index) =>
        index + 1 !== measure
          ? here
          : atBeats(here, divisionsOf(one), (child, at) => {
              if (Math.abs(at - beat) > 1e-6 || !isNote(child, which)) return [child];
              const rest = withoutChildrenNamed(child, "chord", "lyric", "beam");
              const added = change(withChildren(rest, [element("chord"), ...elementsOf(rest)]));
              return [child, added];
            }),
      )(one),
    )(root);

/** Strikes a note of its own in a measure, in a voice of its own, from a beat on. */
export const strikeAlone = (
  part: string,
  measure: number,
  beat: number,
  quarters: number,
  note: XmlElement,
): Change =>
  inPart(part, (one) => {
    const divisions = divisionsOf(one);
    const lasts = (count: number) => element("duration", {}, [count * divisions]);
    return inMeasures((here, index) => {
      if (index + 1 !== measure) return here;
      const sounding = withChildren(note, [
        ...elementsOf(note).filter(({ name }) => name === "pitch"),
        lasts(quarters),
        element("voice", {}, [4]),
        ...elementsOf(note).filter(({ name }) => name === "notations"),
      ]);
      // Back to the start of the bar: a backup further than that stops there.
      return withChildren(here, [
        ...here.children,
        element("backup", {}, [lasts(64)]),
        ...(beat === 1 ? [] : [element("forward", {}, [lasts(beat - 1)])]),
        sounding,
      ]);
    })(one);
  });

/** A bare note, on the notation staff by its pitch, on the TAB with its place as well. */
export const bareNote = (pitch: string, place?: readonly [string: number, fret: number]): XmlElement =>
  element("note", {}, [
    pitchElement(pitch),
    ...(place === undefined
      ? []
      : [
          element("notations", {}, [
            element("technical", {}, [element("string", {}, [place[0]]), element("fret", {}, [place[1]])]),
          ]),
        ]),
  ]);

export const changeHarmony = (
  part: string,
  measure: number,
  which: number,
  root: string,
  kind: string,
): Change =>
  inPart(
    part,
    inMeasures((here, index) => {
      if (index + 1 !== measure) return here;
      let seen = -1;
      return withElements(here, (child) => {
        if (child.name !== "harmony") return child;
        seen += 1;
        if (seen !== which) return child;
        return withElements(child, (one) =>
          one.name === "root"
            ? element("root", {}, [element("root-step", {}, [root])])
            : one.name === "kind"
              ? element("kind", {}, [kind])
              : one,
        );
      });
    }),
  );

// ---- what programs do to a file without meaning anything by it ----

export const withoutField: Change = (root) =>
  withElements(root, (child) =>
    child.name === "identification" ? withoutChildrenNamed(child, "miscellaneous") : child,
  );

export const withoutIdentification: Change = (root) => withoutChildrenNamed(root, "identification");

export const withIds =
  (ids: Readonly<Record<string, string>>): Change =>
  (root) => {
    const renamed = (one: XmlElement) =>
      withAttribute(one, "id", ids[attributeOf(one, "id") ?? ""] ?? attributeOf(one, "id"));
    return withElements(root, (child) =>
      child.name === "part"
        ? renamed(child)
        : child.name === "part-list"
          ? withElements(child, (entry) => (entry.name === "score-part" ? renamed(entry) : entry))
          : child,
    );
  };

export const withNames =
  (name: string): Change =>
  (root) =>
    withElements(root, (child) =>
      child.name !== "part-list"
        ? child
        : withElements(child, (entry) =>
            withElements(entry, (one) => (one.name === "part-name" ? element("part-name", {}, [name]) : one)),
          ),
    );

export const voicesFrom = (first: number): Change =>
  everyNote((note) =>
    withElements(note, (child) =>
      child.name === "voice" ? element("voice", {}, [Number(childText(note, "voice")) + first - 1]) : child,
    ),
  );

export const withoutInNotes = (...names: readonly string[]): Change =>
  everyNote((note) => withoutChildrenNamed(note, ...names));

export const withoutFingers: Change = everyNote((note) =>
  withElements(note, (child) =>
    child.name !== "notations"
      ? child
      : withElements(child, (one) =>
          one.name === "technical" ? withoutChildrenNamed(one, "fingering") : one,
        ),
  ),
);

/** Everything said about playing: strings, frets, fingers. */
export const withoutTechnical: Change = everyNote((note) =>
  withElements(note, (child) =>
    child.name === "notations" ? withoutChildrenNamed(child, "technical") : child,
  ),
);

export const barlinesLast: Change = inEveryPart(
  inMeasures((measure) =>
    withChildren(measure, [
      ...withoutChildrenNamed(measure, "barline").children,
      ...childrenNamed(measure, "barline"),
    ]),
  ),
);

/** Every note a step up or down from its letter, sounding the same. */
export const respelled: Change = everyNote((note) => {
  const pitch = pitchOf(note);
  const other = pitch === undefined ? undefined : OTHER_SPELLINGS[pitch.replace(/\d/, "")];
  const octave = Number(pitch?.match(/\d/)?.[0]);
  const moved = pitch?.startsWith("B") && other?.startsWith("C") ? octave + 1 : octave;
  const down = pitch?.startsWith("C") && other?.startsWith("B") ? octave - 1 : moved;
  return other === undefined ? note : withPitch(`${other}${down}`)(note);
});

const OTHER_SPELLINGS: Readonly<Record<string, string>> = {
  C: "B#",
  "C#": "Db",
  D: "C##",
  Eb: "D#",
  "D#": "Eb",
  E: "Fb",
  F: "E#",
  "F#": "Gb",
  G: "F##",
  "G#": "Ab",
  A: "G##",
  Bb: "A#",
  "A#": "Bb",
  B: "Cb",
  Ab: "G#",
  Db: "C#",
};

export const withLayout: Change = inEveryPart(
  inMeasures((measure, index) =>
    withChildren(withAttribute(measure, "width", 200 + index), [
      element("print", index % 3 === 0 ? { "new-system": "yes" } : {}, [
        element("measure-layout", {}, [element("measure-distance", {}, [10])]),
      ]),
      ...measure.children,
    ]),
  ),
);

export const withPositions: Change = everyNote((note) =>
  withAttribute(withAttribute(note, "default-x", 12.5), "default-y", -20),
);

export const finerDivisions = (times: number): Change =>
  inEveryPart(
    inMeasures((measure) =>
      withElements(measure, (child) =>
        withElements(child, (one) =>
          one.name === "duration" || one.name === "divisions"
            ? element(one.name, {}, [Number(childText(child, one.name)) * times])
            : one,
        ),
      ),
    ),
  );

export const withPartsInOrder =
  (order: readonly number[]): Change =>
  (root) => {
    const parts = childrenNamed(root, "part");
    const rest = withoutChildrenNamed(root, "part");
    return withChildren(rest, [...rest.children, ...order.flatMap((index) => parts[index] ?? [])]);
  };

export const withoutPart =
  (id: string): Change =>
  (root) =>
    withElements(root, (child) => {
      if (child.name === "part" && attributeOf(child, "id") === id) return undefined;
      return child.name === "part-list"
        ? withElements(child, (entry) => (attributeOf(entry, "id") === id ? undefined : entry))
        : child;
    });

/** Written an octave higher with a transposition in place of the clef's small 8. */
export const writtenOctaveUp = (id: string): Change =>
  inPart(id, (part) => {
    const transpose = element("transpose", {}, [
      element("chromatic", {}, [0]),
      element("octave-change", {}, [-1]),
    ]);
    return inMeasures((measure) =>
      withElements(measure, (child) => {
        if (child.name === "attributes" && childNamed(child, "clef") !== undefined)
          return withChildren(withoutChildrenNamed(child, "clef"), [
            ...withoutChildrenNamed(child, "clef").children,
            element("clef", {}, [element("sign", {}, ["G"]), element("line", {}, [2])]),
            transpose,
          ]);
        if (child.name !== "note") return child;
        return withElements(child, (pitch) =>
          pitch.name !== "pitch"
            ? pitch
            : withElements(pitch, (one) =>
                one.name === "octave" ? element("octave", {}, [Number(childText(pitch, "octave")) + 1]) : one,
              ),
        );
      }),
    )(part);
  });

/** Several parts as the staves of the first one; divisions are made equal on the way. */
export const merged =
  (...ids: readonly string[]): Change =>
  (root) => {
    const equal = ids.reduce((score, id) => inPart(id, toDivisions(MERGED_DIVISIONS))(score), root);
    const [first, ...others] = ids.map((id) =>
      childrenNamed(equal, "part").find((part) => attributeOf(part, "id") === id),
    );
    if (first === undefined) throw new Error("nothing to merge");
    const measures = childrenNamed(first, "measure").map((measure, index) => {
      const staves = [first, ...others].map(
        (part) => (part && childrenNamed(part, "measure")[index]) ?? measure,
      );
      return withChildren(
        measure,
        staves.flatMap((staff, number) => [
          ...(number === 0
            ? [element("attributes", {}, [element("staves", {}, [ids.length])])]
            : [element("backup", {}, [element("duration", {}, [lengthOf(staves[number - 1] ?? staff)])])]),
          ...elementsOf(onStaff(staff, number + 1)),
        ]),
      );
    });
    const gone = ids.slice(1).reduce((score, id) => withoutPart(id)(score), equal);
    return withElements(gone, (part) =>
      attributeOf(part, "id") === ids[0] && part.name === "part" ? withChildren(part, measures) : part,
    );
  };

const MERGED_DIVISIONS = 48;

const toDivisions =
  (divisions: number): Change =>
  (part) => {
    const times = divisions / divisionsOf(part);
    return inMeasures((measure) =>
      withElements(measure, (child) =>
        withElements(child, (one) =>
          one.name === "duration" || one.name === "divisions"
            ? element(one.name, {}, [Number(childText(child, one.name)) * times])
            : one,
        ),
      ),
    )(part);
  };

function lengthOf(measure: XmlElement): number {
  let at = 0;
  for (const child of elementsOf(measure)) {
    const duration = Number(childText(child, "duration") ?? 0);
    if (child.name === "backup") at -= duration;
    else if (childNamed(child, "chord") === undefined) at += duration;
  }
  return at;
}

/** Voices get numbers of their own on each staff, as programs do it. */
const onStaff = (measure: XmlElement, staff: number): XmlElement =>
  withElements(measure, (child) => {
    if (child.name === "barline" || child.name === "print") return staff === 1 ? child : undefined;
    if (child.name === "note" || child.name === "harmony" || child.name === "direction") {
      const rest = withoutChildrenNamed(child, "staff");
      const voiced = withElements(rest, (one) =>
        one.name === "voice"
          ? element("voice", {}, [Number(childText(rest, "voice")) + 4 * (staff - 1)])
          : one,
      );
      return withChildren(voiced, [...voiced.children, element("staff", {}, [staff])]);
    }
    if (child.name !== "attributes") return child;
    return withElements(child, (one) =>
      one.name === "divisions" || one.name === "key" || one.name === "time"
        ? staff === 1
          ? one
          : undefined
        : withAttribute(one, "number", staff),
    );
  });

/** A part of two staves as two parts. */
export const split =
  (id: string, ids: readonly [string, string]): Change =>
  (root) => {
    const staffOf = (part: XmlElement, staff: string, partId: string) =>
      withAttribute(
        inMeasures((measure) =>
          withElements(measure, (child) => {
            if (child.name === "attributes")
              return withElements(child, (one) =>
                one.name === "staves" || (attributeOf(one, "number") ?? staff) !== staff
                  ? undefined
                  : withAttribute(one, "number", undefined),
              );
            if (childText(child, "staff") !== undefined && childText(child, "staff") !== staff)
              return child.name === "note" &&
                childNamed(child, "chord") === undefined &&
                childNamed(child, "grace") === undefined
                ? element("forward", {}, [element("duration", {}, [childText(child, "duration") ?? ""])])
                : undefined;
            return withoutChildrenNamed(child, "staff");
          }),
        )(part),
        "id",
        partId,
      );
    const children = elementsOf(root).flatMap((child) => {
      if (child.name === "part" && attributeOf(child, "id") === id)
        return [staffOf(child, "1", ids[0]), staffOf(child, "2", ids[1])];
      if (child.name !== "part-list") return [child];
      return [
        withChildren(
          child,
          elementsOf(child).flatMap((entry) =>
            attributeOf(entry, "id") === id
              ? ids.map((one) => element("score-part", { id: one }, [element("part-name", {}, ["Music"])]))
              : [entry],
          ),
        ),
      ];
    });
    return withChildren(root, children);
  };

/** The two staves of a part in the other order. */
export const stavesSwapped = (id: string): Change =>
  inPart(
    id,
    inMeasures((measure) =>
      withElements(measure, (child) => {
        const other = (staff: string | undefined) => (staff === "1" ? "2" : staff === "2" ? "1" : staff);
        if (child.name === "attributes")
          return withElements(child, (one) =>
            withAttribute(one, "number", other(attributeOf(one, "number"))),
          );
        return withElements(child, (one) =>
          one.name === "staff" ? element("staff", {}, [other(childText(child, "staff")) ?? ""]) : one,
        );
      }),
    ),
  );

export const timewise: Change = (root) => {
  const parts = childrenNamed(root, "part");
  const measures = childrenNamed(parts[0] ?? root, "measure").map((measure, index) => ({
    ...measure,
    children: parts.map((part) =>
      element("part", { id: attributeOf(part, "id") }, [
        ...(childrenNamed(part, "measure")[index]?.children ?? []),
      ]),
    ),
  }));
  const rest = withoutChildrenNamed(root, "part");
  return { ...rest, name: "score-timewise", children: [...rest.children, ...measures] };
};
