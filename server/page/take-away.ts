import type { FileForm } from "./core/core-messages.js";
import { button, make } from "./parts/make.js";

export interface TakeAway {
  readonly element: HTMLElement;
  /** What opens it. */
  readonly doors: readonly HTMLElement[];
  downloadWishes(): void;
}

interface Source {
  ask(form: FileForm): Promise<Uint8Array>;
  wishes(): string;
  /** The score's name without its ending. */
  name(): string;
  /** Prints the guitar alone, or with the lead sheet. */
  print(shown: "guitar" | "both"): Promise<void>;
  failed(error: unknown): void;
}

const FORMS: readonly { form: FileForm; text: string; ending: string; type: string }[] = [
  {
    form: "musicxml",
    text: "MusicXML",
    ending: "-guitar.musicxml",
    type: "application/vnd.recordare.musicxml+xml",
  },
  {
    form: "mxl",
    text: "MusicXML, compressed",
    ending: "-guitar.mxl",
    type: "application/vnd.recordare.musicxml",
  },
  { form: "midi", text: "MIDI", ending: "-guitar.mid", type: "audio/midi" },
  { form: "sheet", text: "Steps and shapes to learn", ending: "-sheet.html", type: "text/html" },
  { form: "report", text: "Report (JSON)", ending: "-report.json", type: "application/json" },
  { form: "words", text: "Every moment in words", ending: "-moments.txt", type: "text/plain" },
];

/** Files of what is arranged, written in the browser. */
export function takeAway({ ask, wishes, name, print, failed }: Source): TakeAway {
  const downloadWishes = () =>
    save(`${name()}-wishes.json`, new TextEncoder().encode(wishes()), "application/json");
  const element = make(
    "section",
    { class: "room", id: "take-away", "aria-label": "Take it away", hidden: true },
    make("h2", {}, "Take it away"),
    make(
      "div",
      { class: "choices" },
      ...FORMS.map(({ form, text, ending, type }) =>
        button(text, () => {
          ask(form).then((bytes) => save(`${name()}${ending}`, bytes, type), failed);
        }),
      ),
      button("Wishes", downloadWishes),
      button("Print the guitar alone", () => void print("guitar").catch(failed)),
      button("Print with the lead sheet", () => void print("both").catch(failed)),
    ),
  );
  return { element, doors: [door("Take it away", element)], downloadWishes };
}

/** A button that opens and closes a room; another room that is open closes. */
export function door(text: string, room: HTMLElement): HTMLButtonElement {
  const opens = button(
    text,
    () => {
      const isOpen = room.hidden;
      for (const other of document.querySelectorAll<HTMLElement>(".room")) other.hidden = true;
      for (const other of document.querySelectorAll(".door")) other.setAttribute("aria-expanded", "false");
      room.hidden = !isOpen;
      opens.setAttribute("aria-expanded", String(isOpen));
    },
    { class: "door", "aria-expanded": "false", "aria-controls": room.id },
  );
  return opens;
}

export function save(name: string, bytes: Uint8Array, type: string): void {
  const address = URL.createObjectURL(new Blob([bytes as Uint8Array<ArrayBuffer>], { type }));
  const link = make("a", { href: address, download: name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}
