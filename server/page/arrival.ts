import { make } from "./parts/make.js";

/** A score or a file of wishes, however it came. */
export interface Brought {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** The ways to bring a score: drop it, pick it, paste it, or take a sample. */
export function arrival(bring: (file: Brought) => void, failed: (why: string) => void): HTMLElement {
  const input = make("input", {
    type: "file",
    id: "file",
    class: "unseen",
    accept: ".musicxml,.xml,.mxl,.json",
  });
  input.addEventListener("change", () => {
    const [file] = input.files ?? [];
    if (file !== undefined) void broughtFrom(file).then(bring);
    input.value = "";
  });
  const samples = make("ul", { class: "samples" });
  void fetch("samples/samples.json")
    .then((answer) => answer.json() as Promise<readonly { readonly file: string; readonly title: string }[]>)
    .then((all) =>
      samples.append(
        ...all.map(({ file, title }) => {
          const take = make("button", { type: "button" }, title);
          take.addEventListener(
            "click",
            () => void sample(file).then(bring, () => failed(`${title} cannot be read.`)),
          );
          return make("li", {}, take);
        }),
      ),
    )
    .catch(() => undefined);
  listenForDrops(bring);
  listenForPaste(bring);
  return make(
    "div",
    { class: "landing" },
    input,
    make(
      "label",
      { class: "landing-file", for: "file" },
      make("span", {}, make("strong", {}, "Drop a lead sheet anywhere"), " or choose a file"),
    ),
    make(
      "p",
      {},
      "MusicXML, plain or compressed (.musicxml, .xml, .mxl): one melody with chord symbols, or a score of several voices. You can paste its text, too. It stays on this machine.",
    ),
    make("h2", {}, "Or begin with a tune of ours"),
    samples,
  );
}

async function sample(file: string): Promise<Brought> {
  const answer = await fetch(`samples/${file}`);
  if (!answer.ok) throw new Error(answer.statusText);
  return { name: file, bytes: new Uint8Array(await answer.arrayBuffer()) };
}

const broughtFrom = async (file: File): Promise<Brought> => ({
  name: file.name,
  bytes: new Uint8Array(await file.arrayBuffer()),
});

function listenForDrops(bring: (file: Brought) => void): void {
  const hasFiles = (event: DragEvent) => event.dataTransfer?.types.includes("Files") ?? false;
  window.addEventListener("dragover", (event) => {
    if (!hasFiles(event)) return;
    event.preventDefault();
    document.body.classList.add("is-dropped-on");
  });
  window.addEventListener("dragleave", (event) => {
    if (event.relatedTarget === null) document.body.classList.remove("is-dropped-on");
  });
  window.addEventListener("drop", (event) => {
    document.body.classList.remove("is-dropped-on");
    const [file] = event.dataTransfer?.files ?? [];
    if (file === undefined) return;
    event.preventDefault();
    void broughtFrom(file).then(bring);
  });
}

function listenForPaste(bring: (file: Brought) => void): void {
  window.addEventListener("paste", (event) => {
    const [file] = event.clipboardData?.files ?? [];
    const text = event.clipboardData?.getData("text/plain") ?? "";
    if (file !== undefined) void broughtFrom(file).then(bring);
    else if (/^\s*[<{]/.test(text))
      bring({
        name: text.trimStart().startsWith("{") ? "pasted.json" : "pasted.musicxml",
        bytes: new TextEncoder().encode(text),
      });
    else return;
    event.preventDefault();
  });
}

/** The score that the page was opened with: its address stands behind the page's own, after the sign "#". */
export async function waitingScore(): Promise<Brought | undefined> {
  const [word, name] = location.hash.slice(1).split("/");
  if (word === undefined || name === undefined || !/^[\w-]+$/.test(word)) return undefined;
  const answer = await fetch(`waiting/${word}`);
  if (!answer.ok) return undefined;
  return { name: decodeURIComponent(name), bytes: new Uint8Array(await answer.arrayBuffer()) };
}

/** Whether what was brought is a file of wishes. */
export const isWishes = ({ name, bytes }: Brought): boolean => {
  const [first] = new TextDecoder()
    .decode(bytes.subarray(0, 64))
    .replace(/^\uFEFF/, "")
    .trimStart();
  return /\.json$/i.test(name) || first === "{";
};
