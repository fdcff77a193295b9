// What the tests use of verovio, which comes without types.
declare module "verovio/wasm" {
  export default function createVerovioModule(): Promise<object>;
}
declare module "verovio/esm" {
  export class VerovioToolkit {
    constructor(module: object);
    setOptions(options: object): void;
    loadData(score: string): boolean;
    renderToTimemap(
      options?: object,
    ): readonly { readonly qstamp: number; readonly on?: readonly string[] }[];
    getMIDIValuesForElement(id: string): { readonly pitch: number };
    renderToMIDI(): string;
    getMEI(): string;
    getLog(): string;
  }
}
