import { readFileSync } from "node:fs";
import { expect, it } from "vitest";

it("animals of the demo have names of one word each, no two alike and none a code", () => {
  const file = new URL("../../data-demo/animals.csv", import.meta.url);
  const [heads, ...rows] = readFileSync(file, "utf8").trim().split(/\r?\n/);
  const at = heads!.split(",").indexOf("name");
  const names = rows.map((row) => row.split(",")[at] ?? "");
  expect(names.length).toBeGreaterThan(30);
  expect(new Set(names).size).toBe(names.length);
  // Words of everyday use are short: an invented one of six letters and more is none of them.
  for (const name of names) expect(name).toMatch(/^\p{Lu}\p{Ll}{5,}$/u);
});
