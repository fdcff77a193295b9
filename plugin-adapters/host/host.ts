import type { ArrangeOptions } from "undervoice";
import type { Drop } from "./drops.js";

/**
 * A manifest: how one notation program takes part. Everything that differs between programs is data here, and
 * none of it is code.
 */
export type Host = FolderHost | CommandHost | ScriptHost;

interface AnyHost {
  /** What it is called in messages. */
  readonly name: string;
  /** Layout of the guitar's staves that it reads best; the option "staves". */
  readonly staves?: ArrangeOptions["staves"];
  /** What it loses of a score that it imports. */
  readonly drops?: readonly Drop[];
  /** Options of the arrangement. */
  readonly options?: Partial<Omit<ArrangeOptions, "staves">>;
}

/** Exports to a folder, by itself or as asked. Paths are relative to the manifest; "~/" is the person's own folder. */
export interface FolderHost extends AnyHost {
  readonly kind: "folder";
  readonly exportsTo: string;
  /** Where guitar scores go; beside the exported scores if nothing is said. */
  readonly importsFrom?: string;
  readonly compressed?: boolean;
}

/** Calls an external program with the file it exported. */
export interface CommandHost extends AnyHost {
  readonly kind: "command";
  /** What the guitar score is opened with: nothing, the system's program for it, or the program named. */
  readonly opens?: "nothing" | "system" | { readonly program: string };
  readonly compressed?: boolean;
}

/** Runs scripts inside itself. */
export interface ScriptHost extends AnyHost {
  readonly kind: "script";
  /** Where the service listens, if elsewhere than usual. */
  readonly service?: string;
}
