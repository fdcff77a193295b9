import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { EXIT_CODES } from "../../src/cli/exit-codes.js";
import { flagNameOf } from "../../src/cli/flags.js";
import { OPTIONS } from "../../src/options/options.js";
import { runInMemory } from "./outside-in-memory.js";

/** The README with the parts made anew that come from tables and from the program itself. */
export async function withCurrentParts(readme: string): Promise<string> {
  const parts = { summary: await summaryShown(), options: optionsTable(), "exit-codes": exitCodesTable() };
  return Object.entries(parts).reduce((text, [name, part]) => {
    const [begin, end] = [`<!-- begin ${name} -->`, `<!-- end ${name} -->`];
    const [before, rest] = text.split(begin);
    const after = rest?.split(end)[1];
    if (after === undefined) throw new Error(`the README has no place for ${name}`);
    return `${before}${begin}\n\n${part}\n\n${end}${after}`;
  }, readme);
}

function optionsTable(): string {
  const rows = Object.entries(OPTIONS).map(([name, option]) => {
    const range = "minimum" in option ? `${option.minimum} to ${option.maximum}` : "";
    const values = "enum" in option ? option.enum.map((value) => `\`${value}\``).join(", ") : range;
    const usual =
      option.type === "boolean" ? "off" : option.default === undefined ? "" : `\`${option.default}\``;
    return `| \`--${flagNameOf(name)}\` | ${option.description} | ${values} | ${usual} |`;
  });
  return ["| Option | What it does | Values | Default |", "| --- | --- | --- | --- |", ...rows].join("\n");
}

function exitCodesTable(): string {
  const rows = Object.values(EXIT_CODES).map(({ code, meaning }) => `| ${code} | ${meaning} |`);
  return ["| Status | Meaning |", "| --- | --- |", ...rows].join("\n");
}

/** What the terminal shows of one sample, command and all. */
async function summaryShown(): Promise<string> {
  const path = "sample-scores/slow-bell.musicxml";
  const words = ["arrange", path, "-o", "slow-bell-guitar.musicxml"];
  const score = readFileSync(fileURLToPath(new URL(`../../${path}`, import.meta.url)));
  const { errors } = await runInMemory(words, { [path]: score });
  const lines = [`$ npx undervoice ${words.join(" ")}`, ...errors.trimEnd().split("\n")];
  return lines.map((line) => `    ${line}`).join("\n");
}
