import { execFileSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";

// As in a browser whose page forbids it: nothing may be compiled from text, by us or by a package.
test("the core loads, arranges and checks where no code may be made from text", () => {
  const program = `
    import { readFileSync } from "node:fs";
    import { answerOrder, checkedWishes, completeOptions } from "undervoice";
    const score = readFileSync("sample-scores/slow-bell.musicxml");
    const options = completeOptions({ texture: "lean" });
    const wishes = checkedWishes({ wishes: [{ measure: 1, beat: 1, play: "single" }] });
    const arranged = answerOrder({ kind: "arrange", score, options, wishes, isCompressed: true });
    const checked = answerOrder({ kind: "check", score: arranged.score, options });
    let refused;
    try { completeOptions({ rests: "loud" }) } catch (error) { refused = error.message }
    let isForbidden = false;
    try { new Function("return 1") } catch { isForbidden = true }
    console.log(JSON.stringify([arranged.kind, checked.kind, refused, isForbidden]));
  `;
  const output = execFileSync(
    process.execPath,
    ["--disallow-code-generation-from-strings", "--input-type=module", "--eval", program],
    { cwd: fileURLToPath(new URL("..", import.meta.url)), encoding: "utf8" },
  );
  expect(JSON.parse(output)).toEqual([
    "done",
    "done",
    'The option rests cannot be "loud"; it takes silent or struck.',
    true,
  ]);
});
