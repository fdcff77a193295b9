import { homedir } from "node:os";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { DROPS } from "./drops.js";
import type { CommandHost, FolderHost, Host } from "./host.js";

/** What a host's manifest comes to on this computer. */
export type HostRun =
  | {
      readonly kind: "folder";
      readonly inFolder: string;
      readonly outFolder: string;
      readonly isCompressed: boolean;
      readonly keepsOwnMark: boolean;
    }
  /** A program with its words; the score and the options follow them. */
  | { readonly kind: "command"; readonly program: string; readonly words: readonly string[] }
  /** The script runs inside the notation program; this is what it is called with. */
  | { readonly kind: "script"; readonly file: string; readonly service: string | undefined };

/** From the built module to the folder of the adapters, which the package ships as they stand. */
const ADAPTERS = fileURLToPath(new URL("../../../plugin-adapters/", import.meta.url));

/** @param manifest path of the manifest, which its folders are relative to */
export function hostRun(host: Host, manifest: string, platform = process.platform): HostRun {
  switch (host.kind) {
    case "folder":
      return folderRun(host, dirname(resolve(manifest)));
    case "command":
      return commandRun(host, platform);
    case "script":
      return {
        kind: "script",
        file: join(ADAPTERS, "script-client/undervoice-client.js"),
        service: host.service,
      };
  }
}

/** Options as the manifest sets them; what is asked for on the spot goes before. */
export const optionsOf = ({ staves, options }: Host): Readonly<Record<string, unknown>> => ({
  ...options,
  ...(staves === undefined ? {} : { staves }),
});

/** What a person should know of the program's losses, a line each. */
export const lossesOf = ({ drops = [] }: Host): readonly string[] =>
  drops.map((drop) => `${DROPS[drop].loss} ${DROPS[drop].advice}`);

function folderRun({ exportsTo, importsFrom = exportsTo, ...host }: FolderHost, base: string): HostRun {
  const place = (path: string) => resolve(base, path.replace(/^~(?=$|[/\\])/, homedir()));
  return {
    kind: "folder",
    inFolder: place(exportsTo),
    outFolder: place(importsFrom),
    isCompressed: host.compressed ?? false,
    keepsOwnMark: !(host.drops ?? []).includes("own-mark"),
  };
}

function commandRun({ opens = "nothing", compressed = false }: CommandHost, platform: string): HostRun {
  const isWindows = platform === "win32";
  const flag = (posix: string, windows: string) => (isWindows ? windows : posix);
  const opening =
    opens === "nothing"
      ? []
      : opens === "system"
        ? [flag("--open", "-Open")]
        : [flag("--open-with", "-OpenWith"), opens.program];
  const words = [...opening, ...(compressed ? [flag("--compressed", "-Compressed")] : [])];
  const script = join(ADAPTERS, `command/arrange-for-guitar${flag(".sh", ".ps1")}`);
  return isWindows
    ? {
        kind: "command",
        program: "powershell.exe",
        words: ["-NoProfile", "-ExecutionPolicy", "Bypass", "-File", script, ...words],
      }
    : { kind: "command", program: "/bin/sh", words: [script, ...words] };
}
