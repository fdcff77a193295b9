/** Shells that can be told what can be typed. */
export const SHELLS = ["bash", "zsh", "fish", "powershell"] as const;

export type Shell = (typeof SHELLS)[number];
