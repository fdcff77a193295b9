import type { CompletedCommand, CompletedFlag } from "./completed-command.js";

/** The script for PowerShell. Files are completed by the shell itself where the script answers with nothing. */
export const powershellScript = (
  commands: readonly CompletedCommand[],
): string => `# undervoice: completion for PowerShell
Register-ArgumentCompleter -Native -CommandName undervoice -ScriptBlock {
    param($word, $line, $cursor)
    $commands = [ordered]@{
${commands.map(({ name, description }) => `        ${quoted(name)} = ${quoted(description)}`).join("\n")}
    }
    $flags = @{
${commands.map((command) => table(command.name, command.flags.flatMap(flagRow))).join("\n")}
    }
    $values = @{
${commands.map((command) => table(command.name, command.flags.flatMap(valueRow))).join("\n")}
    }
    $others = @{
${commands.flatMap(otherRow).join("\n")}
    }
    $before = @($line.CommandElements | Where-Object { $_.Extent.EndOffset -lt $cursor } | ForEach-Object { $_.ToString() })
    $command = if ($before.Count -gt 1) { $before[1] } else { '' }
    $previous = $before[-1]
    $found = [ordered]@{}
    if (-not $commands.Contains($command)) { $found = $commands }
    elseif ($values[$command].Contains($previous)) {
        foreach ($value in $values[$command][$previous]) { $found[$value] = $value }
    }
    elseif ($word.StartsWith('-')) { $found = $flags[$command] }
    elseif ($others.Contains($command)) {
        foreach ($other in $others[$command]) { $found[$other] = $other }
    }
    foreach ($name in $found.Keys) {
        if ($name.StartsWith($word)) {
            [System.Management.Automation.CompletionResult]::new($name, $name, 'ParameterValue', $found[$name])
        }
    }
}
`;

const table = (name: string, rows: readonly string[]): string =>
  `        ${quoted(name)} = [ordered]@{${rows.map((row) => `\n            ${row}`).join("")}\n        }`;

const dashed = ({ name, short }: CompletedFlag): readonly string[] => [
  `--${name}`,
  // Keys of a table do not tell capitals; no command has two such flags.
  ...(short === undefined ? [] : [`-${short}`]),
];

const flagRow = (flag: CompletedFlag): readonly string[] =>
  dashed(flag).map((word) => `${quoted(word)} = ${quoted(flag.description)}`);

const valueRow = (flag: CompletedFlag): readonly string[] =>
  typeof flag.value === "string"
    ? []
    : dashed(flag).map((word) => `${quoted(word)} = ${list(flag.value as readonly string[])}`);

const otherRow = ({ name, takes }: CompletedCommand): readonly string[] =>
  typeof takes === "string" ? [] : [`        ${quoted(name)} = ${list(takes)}`];

const list = (words: readonly string[]): string => `@(${words.map(quoted).join(", ")})`;
const quoted = (text: string): string => `'${text.replaceAll("'", "''")}'`;
