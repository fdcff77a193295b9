import { expect, test } from "vitest";
import { troubleInWords } from "../../src/files/trouble-in-words.js";

test("what the system would not do is said in words, more exactly where it is known what was tried", () => {
  const full = Object.assign(new Error("ENOSPC: no space left on device, write"), { code: "ENOSPC" });
  expect(troubleInWords(full)).toBe("there is no room left");
  expect(troubleInWords({ code: "ENOENT" })).toBe("there is no such file or folder");
  expect(troubleInWords({ code: "ENOENT" }, "written")).toBe("the folder that it is to be in is not there");
});

test("what has no words of ours keeps its own", () => {
  expect(troubleInWords(Object.assign(new Error("EXDEV: other device"), { code: "EXDEV" }))).toBe(
    "EXDEV: other device",
  );
  expect(troubleInWords("the lamp went out")).toBe("the lamp went out");
});
