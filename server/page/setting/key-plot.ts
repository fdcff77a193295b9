import { type KeyEntry, momentText, type PlaceReport } from "undervoice";
import { button, make } from "../parts/make.js";

/** A tune in each of the twelve keys, as far as it is known: a line for each, from the flats to the sharps. */
export interface KeyPlot {
  readonly element: HTMLElement;
  /** Empties the plot. */
  begin(): void;
  /** A key and octave that was worked out. */
  add(key: string, place: PlaceReport): void;
  /** All of it, with what only the whole survey knows. */
  end(keys: readonly KeyEntry[]): void;
}

interface Row {
  readonly key: string;
  place: PlaceReport | undefined;
  entry: KeyEntry | undefined;
}

/** `taken` is a value of the option `key`. */
export function keyPlot(take: (option: string, words: string) => void): KeyPlot {
  const list = make("ol", { class: "keys" });
  const legend = make(
    "p",
    { class: "legend" },
    "The longer a bar, the more effort for the hand; rings are open strings in use. Choose a key to move the tune there.",
  );
  const element = make("div", {}, legend, list);
  let rows: readonly Row[] = [];

  function draw() {
    const costs = rows.flatMap(({ place }) => place?.cost ?? []);
    const [least, most] = [Math.min(...costs), Math.max(...costs)];
    list.replaceChildren(
      ...rows.toSorted((one, other) => distance(one) - distance(other)).map((row) => line(row, least, most)),
    );
  }

  function line({ key, place, entry }: Row, least: number, most: number): HTMLElement {
    if (place === undefined)
      return make(
        "li",
        { class: "key outside" },
        make("span", { class: "key-name" }, key),
        make("span", { class: "key-words" }, `${entry?.notesOutside ?? "Some"} notes off the strings`),
      );
    const bar = make("span", {
      class: place.cost === least ? "key-bar least" : "key-bar",
      "aria-hidden": "true",
    });
    bar.style.setProperty(
      "--share",
      String(0.12 + (0.88 * (place.cost - least * 0.9)) / (most - least * 0.9)),
    );
    const words = wordsOn(place, least, entry);
    const pick = button("", () => entry && take(place.semitones === 0 ? "keep" : entry.option, key), {
      class: "key-take",
      disabled: entry === undefined,
    });
    pick.append(
      make("span", { class: "key-name" }, key),
      make("span", { class: "key-moved" }, movedBy(place.semitones)),
      make("span", { class: "key-track" }, bar),
      make("span", { class: "key-open", "aria-hidden": "true" }, "○".repeat(place.openStrings.length)),
      make("span", { class: "key-words" }, words),
    );
    return make("li", { class: "key" }, pick);
  }

  return {
    element,
    begin() {
      rows = [];
      draw();
    },
    add(key, place) {
      const known = rows.find((row) => row.key === key);
      if (known === undefined) rows = [...rows, { key, place, entry: undefined }];
      else if (place.cost < (known.place?.cost ?? Number.POSITIVE_INFINITY)) known.place = place;
      draw();
    },
    end(keys) {
      rows = keys.map((entry) => ({ key: entry.key, place: entry.places[0], entry }));
      draw();
    },
  };
}

/** From six semitones down to five up, whatever the octave; keys that do not fit last. */
const distance = ({ place }: Row): number =>
  place === undefined ? 99 : ((((place.semitones + 6) % 12) + 12) % 12) - 6;

const movedBy = (semitones: number): string =>
  semitones === 0 ? "as written" : `${semitones > 0 ? "+" : "−"}${Math.abs(semitones)}`;

function wordsOn(place: PlaceReport, least: number, entry: KeyEntry | undefined): string {
  const more = Math.round((place.cost / least - 1) * 100);
  const { hardestMove, openStrings, openMoments, ensemble } = place;
  return [
    place.cost === least ? "easiest" : more === 0 ? "hardly more effort" : `${more} % more effort`,
    hardestMove === undefined
      ? "the hand stays"
      : `hardest move ${Math.round(hardestMove.mmPerSecond)} mm/s, ${momentText(hardestMove.to)}`,
    openStrings.length === 0 ? "no open strings" : `open strings at ${Math.round(openMoments * 100)} %`,
    ...(ensemble === undefined
      ? []
      : [
          `every tone on ${Math.round(ensemble.tonesKept * 100)} % of the beats`,
          `${ensemble.bassOutOfReach} of ${ensemble.bassNotes} bass notes out of reach`,
        ]),
    ...(entry?.capo === undefined
      ? []
      : [`easier with a capo at ${entry.capo.fret}: ${entry.capo.shapes} shapes`]),
  ].join("; ");
}
