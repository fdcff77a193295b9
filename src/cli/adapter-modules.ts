import type { ArrangeOptions } from "../options/options.js";

/**
 * What the command line needs of the adapters. They are a project of their own, built upon this one, so that this
 * one cannot refer to them; they are imported by their place in the build.
 */
export interface WatchModule {
  startWatching(wish: {
    readonly inFolder: string;
    readonly outFolder: string;
    readonly options: ArrangeOptions;
    readonly isCompressed: boolean;
    readonly keepsOwnMark: boolean;
    readonly stillMs: number | undefined;
    say(line: string): void;
  }): Promise<{ close(): Promise<void> }>;
}

/** A manifest that was read; what is in it is the adapters' own matter. */
declare const isHost: unique symbol;
export interface Host {
  readonly [isHost]: true;
  readonly name: string;
}

export interface ReadHostModule {
  /** @throws an error named HostError with `lines` where the manifest cannot be used */
  readHost(json: string): Host;
}

export interface RunHostModule {
  hostRun(host: Host, manifest: string): HostRun;
  optionsOf(host: Host): Readonly<Record<string, unknown>>;
  lossesOf(host: Host): readonly string[];
}

export type HostRun =
  | {
      readonly kind: "folder";
      readonly inFolder: string;
      readonly outFolder: string;
      readonly isCompressed: boolean;
      readonly keepsOwnMark: boolean;
    }
  | { readonly kind: "command"; readonly program: string; readonly words: readonly string[] }
  | { readonly kind: "script"; readonly file: string; readonly service: string | undefined };

const builtModule = (path: string): Promise<unknown> =>
  import(new URL(`../plugin-adapters/${path}`, import.meta.url).href);

export const watchModule = () => builtModule("watched-folder/start-watching.js") as Promise<WatchModule>;
export const readHostModule = () => builtModule("host/read-host.js") as Promise<ReadHostModule>;
export const runHostModule = () => builtModule("host/run-host.js") as Promise<RunHostModule>;
