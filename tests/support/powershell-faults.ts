import { createRequire } from "node:module";
import type { Node } from "@vscode/tree-sitter-wasm";

const require = createRequire(import.meta.url);

/** Places in a PowerShell script that its grammar does not know, as "row: text". There need be no PowerShell here. */
export async function powershellFaults(script: string): Promise<readonly string[]> {
  const { Parser, Language } =
    require("@vscode/tree-sitter-wasm") as typeof import("@vscode/tree-sitter-wasm");
  await Parser.init();
  const parser = new Parser();
  const grammar = require.resolve("@vscode/tree-sitter-wasm/wasm/tree-sitter-powershell.wasm");
  parser.setLanguage(await Language.load(grammar));
  const tree = parser.parse(script);
  return tree === null ? ["the script cannot be parsed"] : faultsUnder(tree.rootNode);
}

function faultsUnder(node: Node): readonly string[] {
  if (node.isError || node.isMissing) return [`${node.startPosition.row + 1}: ${node.text}`];
  if (!node.hasError) return [];
  return node.children.flatMap((child) => (child === null ? [] : faultsUnder(child)));
}
