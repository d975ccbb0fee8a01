import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { readSettings } from "../../../src/records/settings.js";

const text = (path: string) => readFileSync(new URL(`../../../${path}`, import.meta.url), "utf8");

describe("the README's table of layouts", () => {
  const steps = [...text("README.md").matchAll(/`(\{ "layout": .*? \})` \|/g)].map((m) => m[1]!);

  it("shows every layout there is, each as study.json takes it", () => {
    const schema = text("src/records/layouts/layout-schema.ts");
    const known = [...schema.matchAll(/z\.literal\("([^"]+)"\)/g)].map((m) => m[1]!);
    const shown = steps.map((step) => (JSON.parse(step) as { layout: string }).layout);
    expect(shown.sort()).toEqual(known.sort());
    const study = readSettings(`{ "zone": "UTC", "layouts": { "a.csv": [${steps.join(",")}] } }`);
    expect(study.layouts.get("a.csv")).toEqual(steps.map((step) => JSON.parse(step)));
  });
});
