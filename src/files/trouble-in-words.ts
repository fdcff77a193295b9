const REASONS: Readonly<Record<string, string>> = {
  ENOENT: "there is no such file or folder",
  EACCES: "it is not permitted",
  EPERM: "it is not permitted",
  EROFS: "it stands where nothing may be written",
  EISDIR: "it is a folder",
  EEXIST: "there is a file of that name",
  ENOTDIR: "part of its path is not a folder",
  ENOSPC: "there is no room left",
};

/** What such a cause means more exactly when a file is read, or written. */
const REASONS_DOING: Readonly<Record<string, string>> = {
  "read EISDIR": "it is a folder; the command batch arranges a folder of lead sheets",
  "written ENOENT": "the folder that it is to be in is not there",
};

/** Why the system would not do something with a file, for a person; its own words where it has no code that is known. */
export function troubleInWords(cause: unknown, doing = ""): string {
  const { code = "", message } = cause as NodeJS.ErrnoException;
  return REASONS_DOING[`${doing} ${code}`] ?? REASONS[code] ?? message ?? String(cause);
}
