/** Names in a row, the first few of many: "a, b and 3 more". */
export function listed(names: readonly string[], most: number, separator = ", "): string {
  const more = names.length > most ? ` and ${names.length - most} more` : "";
  return `${names.slice(0, most).join(separator)}${more}`;
}
