import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { expect, it } from "vitest";
import { full } from "./sample-charts.js";

/**
 * Every chart function has a sample, and every sample a picture in each way that
 * readers meet it: what the browser's check compares cannot leave one out.
 */
const folder = fileURLToPath(new URL("../../src/charts", import.meta.url));
const functions = readdirSync(folder)
  .filter((file) => file.endsWith(".ts"))
  .flatMap((file) => [
    ...readFileSync(`${folder}/${file}`, "utf8").matchAll(/^export function (\w+)Chart\(/gm),
  ])
  .map((found) => found[1]!)
  // What makes and draws charts is none itself.
  .filter((name) => !["make", "draw"].includes(name));

it("every chart function has a sample with invented data", () => {
  expect(functions.length).toBeGreaterThanOrEqual(18);
  expect(Object.keys(full).sort()).toEqual([...functions].sort());
});

it("every sample has a reference picture in light, dark, grey and at 390 pixels", () => {
  const references = new URL("../../.ci/pictures.json", import.meta.url);
  const known = Object.keys(JSON.parse(readFileSync(references, "utf8")) as object);
  const wanted = Object.keys(full).flatMap((name) =>
    ["light", "dark", "grey", "390"].map((way) => `${name} ${way}`),
  );
  expect(known.sort()).toEqual(wanted.sort());
});
