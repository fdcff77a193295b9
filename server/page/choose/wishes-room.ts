import type { WrittenWish } from "undervoice";
import { button, make } from "../parts/make.js";
import { door } from "../take-away.js";
import { wishInWords } from "./wish-history.js";

export interface WishesRoom {
  readonly element: HTMLElement;
  readonly doors: readonly HTMLElement[];
  show(wishes: readonly WrittenWish[]): void;
}

/** Every choice in words, each with a way to take it back. */
export function wishesRoom(source: {
  change(wishes: readonly WrittenWish[]): void;
  download(): void;
}): WishesRoom {
  const list = make("ol", { class: "wishes" });
  const note = make("p", { class: "legend" });
  const all = make("div", { class: "choices" });
  const element = make(
    "section",
    { class: "room", id: "wishes", "aria-label": "Your choices", hidden: true },
    make("h2", {}, "Your choices"),
    note,
    list,
    all,
  );
  const opens = door("Your choices", element);
  return {
    element,
    doors: [opens],
    show(wishes) {
      opens.textContent = wishes.length === 0 ? "Your choices" : `Your choices (${wishes.length})`;
      note.textContent =
        wishes.length === 0
          ? "None yet. Choose another way to play a moment, or drop a file of wishes here."
          : "The rest is arranged around them. The file is the one that undervoice arrange --wishes takes.";
      list.replaceChildren(
        ...wishes.map((wish, index) => {
          const words = wishInWords(wish);
          return make(
            "li",
            {},
            `${words} `,
            button("Take back", () => source.change(wishes.toSpliced(index, 1)), {
              class: "quiet",
              "aria-label": `Take back: ${words}`,
            }),
          );
        }),
      );
      all.replaceChildren(
        ...(wishes.length === 0
          ? []
          : [
              button("Wishes as a file", source.download),
              button("Take all back", () => source.change([]), { class: "quiet" }),
            ]),
      );
    },
  };
}
