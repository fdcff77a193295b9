import { OPTIONS, type OptionName } from "undervoice";
import type { GivenOptions } from "../core/core-messages.js";
import { type CoreThread, Refused, Stopped, startCoreThread } from "../core/core-thread.js";
import { button, make } from "../parts/make.js";
import { door } from "../take-away.js";
import { keyPlot } from "./key-plot.js";

export interface SettingRoom {
  readonly element: HTMLElement;
  readonly doors: readonly HTMLElement[];
  /** The options in force, for the tune that is open. */
  show(options: GivenOptions, score: Uint8Array): void;
}

/** What each option is called here, in the order in which they stand. */
const NAMES: Readonly<Partial<Record<OptionName, string>>> = {
  tuning: "Open strings, low to high",
  capo: "Capo at fret",
  frets: "Highest fret",
  scaleLength: "String length, mm",
  hand: "Size of your hand, 1 is average",
  shift: "Fastest travel of the hand, mm a second",
  strings: "Melody on strings",
  notes: "Notes in a grip",
  rests: "A chord that changes in a rest",
  bass: "Bass under the tune",
  rightHand: "Right hand",
  tempo: "Quarter notes a minute",
  melody: "Part with the melody",
  chords: "Chords",
  tune: "Which tune of the file, 0 for all",
};

const TEXTURES = {
  fluent: ["Fluent", "Playable at the tempo: chords ring on, single notes where the hand cannot be in time."],
  full: ["Full", "A chord for every melody note: the first draft."],
  lean: ["Lean", "Chords at chord changes and strong beats only."],
  voices: ["Voices", "For an ensemble: nothing sounds but what its voices sing."],
} as const;

/** Key, texture, instrument and hand. `change` gives the options that are asked for now, defaults left out. */
export function settingRoom(change: (options: GivenOptions) => void): SettingRoom {
  let given: GivenOptions = {};
  let score: Uint8Array | undefined;
  let surveyor: CoreThread | undefined;
  const controls = new Map<OptionName, HTMLInputElement | HTMLSelectElement>();
  const textures = Object.entries(TEXTURES).map(([name, [title, words]]) => {
    const radio = make("input", { type: "radio", name: "texture", value: name });
    radio.addEventListener("change", () => changed("texture", name));
    return {
      name,
      radio,
      label: make("label", { class: "texture" }, radio, make("strong", {}, title), ` ${words}`),
    };
  });
  const plot = keyPlot((option) => changed("key", option));
  const compare = button("Compare the keys", () => void survey());
  const backToKey = button("Back to the written key", () => changed("key", "keep"), { class: "quiet" });
  const state = make("p", { role: "status", class: "legend" });
  const fields = Object.entries(NAMES).map(([name, title]) => {
    const control = controlFor(name as OptionName);
    controls.set(name as OptionName, control);
    control.addEventListener("change", () =>
      changed(name as OptionName, askedIn(name as OptionName, control)),
    );
    return make(
      "label",
      { class: "field setting", title: OPTIONS[name as OptionName].description },
      make("span", {}, title),
      control,
    );
  });
  const element = make(
    "section",
    { class: "room", id: "setting", "aria-label": "Key and texture", hidden: true },
    make("h2", {}, "Texture"),
    make(
      "div",
      { class: "textures", role: "radiogroup", "aria-label": "Texture" },
      ...textures.map(({ label }) => label),
    ),
    make("h2", {}, "Key"),
    make("div", { class: "choices" }, compare, backToKey),
    state,
    plot.element,
    make("h2", {}, "Instrument and hand"),
    make("div", { class: "fields" }, ...fields),
  );
  plot.element.hidden = true;

  function changed(name: OptionName, value: string | number | undefined) {
    const rest = Object.fromEntries(Object.entries(given).filter(([known]) => known !== name));
    change(value === undefined || value === OPTIONS[name].default ? rest : { ...rest, [name]: value });
  }

  async function survey(): Promise<void> {
    if (score === undefined) return;
    if (surveyor !== undefined) {
      surveyor.stop();
      return;
    }
    surveyor = startCoreThread();
    const mine = surveyor;
    plot.begin();
    plot.element.hidden = false;
    compare.textContent = "Stop comparing";
    state.textContent = "Arranging the tune in each key …";
    const { key: _key, ...options } = given;
    try {
      const { keys } = await mine.ask({ kind: "keys", bytes: score, options }, ({ key, place }) =>
        plot.add(key, place),
      );
      plot.end(keys);
      state.textContent = "";
    } catch (error) {
      state.textContent =
        error instanceof Refused ? error.message : error instanceof Stopped ? "Stopped." : String(error);
    } finally {
      mine.end();
      surveyor = undefined;
      compare.textContent = "Compare the keys";
    }
  }

  return {
    element,
    doors: [door("Key and texture", element)],
    show(options, bytes) {
      if (bytes !== score) {
        surveyor?.stop();
        plot.element.hidden = true;
        state.textContent = "";
      }
      score = bytes;
      given = options;
      for (const { name, radio } of textures)
        radio.checked = name === (options.texture ?? OPTIONS.texture.default);
      for (const [name, control] of controls) {
        const value = options[name as keyof GivenOptions] ?? OPTIONS[name].default;
        control.value = value === undefined ? "" : String(value);
      }
      backToKey.hidden = (options.key ?? "keep") === "keep";
    },
  };
}

function controlFor(name: OptionName): HTMLInputElement | HTMLSelectElement {
  const row = OPTIONS[name];
  if ("enum" in row) return make("select", {}, ...row.enum.map((value) => make("option", { value }, value)));
  if ("minimum" in row)
    return make("input", {
      type: "number",
      min: row.minimum,
      max: row.maximum,
      step: row.type === "integer" ? 1 : "any",
      placeholder: row.default === undefined ? "as written" : String(row.default),
    });
  return make("input", { type: "text", size: name === "tuning" ? 22 : 8, spellcheck: "false" });
}

function askedIn(name: OptionName, { value }: { readonly value: string }): string | number | undefined {
  if (value.trim() === "") return undefined;
  return "minimum" in OPTIONS[name] ? Number(value) : value;
}
