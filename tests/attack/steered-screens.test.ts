import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { jsonOnScreen } from "../../src/command-line/on-screen.js";
import { leaveNothingBehind } from "./after-commands.js";
import { said } from "./said.js";

/**
 * Cells, headings, names of files and settings hold signs that a terminal obeys (ECMA-48:
 * ESC, the control sequence introducer in both forms, the bell) or that turn the direction
 * of writing (Unicode UAX 9): nothing that a command prints may hand them on.
 */
leaveNothingBehind();
let study: string;
const steer = "\u001b[2J\u009b31m\u0007\u202e\u2066\u007f";
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for.
const steering = /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u2028-\u202e\u2066-\u2069]/;

beforeAll(() => {
  study = mkdtempSync(join(tmpdir(), "gramline-steered-"));
  const days = Array.from({ length: 14 }, (_, d) => `2025-03-${String(d + 1).padStart(2, "0")}`);
  const file = (name: string, lines: readonly string[]) =>
    writeFileSync(join(study, name), `${lines.join("\n")}\n`);
  writeFileSync(
    join(study, "study.json"),
    JSON.stringify({
      title: `Title ${steer}`,
      zone: "UTC",
      species: ["sea otter", `heron ${steer}`],
      columns: { weighings: { mass_g: `Gewicht ${steer}` } },
      [`odd ${steer}`]: `odd ${steer}`,
    }),
  );
  file("animals.csv", [
    "animal_id,name,species,notes",
    `A${steer}1,Bell ${steer},sea otter,${steer}`,
    `A2,Other,heron ${steer},${steer}`,
  ]);
  file("weighings.csv", [
    `animal_id,at,Gewicht ${steer},strange ${steer}`,
    ...days.map((day, d) => `A${steer}1,${day} 07:00,${2000 + 20 * d},`),
    `A2,${days[3]} 07:00,${steer}2000,${steer}`,
    `A${steer}9,${days[3]} ${steer},2000,`,
    `Stranger${steer},${days[3]} 07:00,2000,`,
  ]);
  file("feeds.csv", [
    "animal_id,at,diet_id,offered_g,notes",
    ...days.map((day) => `A${steer}1,${day} 08:00,milk ${steer},90 ${steer},${steer}`),
  ]);
  file("observations.csv", [
    "animal_id,at,kind,value,unit,notes",
    `A${steer}1,${days[12]} 09:00,note,${steer},,${steer}`,
  ]);
  file(`strange ${steer.replaceAll("\u0000", "")}.csv`, ["a,b", "1,2"]);
  mkdirSync(join(study, `folder ${steer}`));
  file(join(`folder ${steer}`, "weighings.csv"), [
    "animal_id,at,mass_g",
    "A2,2025-03-01 07:00,2000",
  ]);
});
afterAll(() => rmSync(study, { recursive: true, force: true }));

describe("what a command prints", () => {
  it.each([
    "check",
    "day",
    "hand-over",
    "report",
    "prior",
    "explain",
    "archive add",
    "run-notebooks",
  ])("steers no screen: %s", async (name) => {
    const out = join(study, "out");
    const lines: Readonly<Record<string, string[]>> = {
      check: ["check", study, "--out", join(out, "check")],
      day: ["day", study, "--out", join(out, "day.html")],
      "hand-over": ["hand-over", study, "--out", join(out, "hand-over.html")],
      report: ["report", study, "--out", join(out, "report"), "--date", "2025-04-01"],
      prior: ["prior", study, "--out", join(out, "prior.json"), "--species", `heron ${steer}`],
      explain: ["explain", `fever ${steer}`],
      "archive add": ["archive", "add", study, "--to", join(out, "archive"), "--facility", "oak"],
      "run-notebooks": ["run-notebooks", `none ${steer}`, "--study", study, "--out", out],
    };
    for (const more of [[], ["--json"]]) {
      const { code, all } = await said([...lines[name]!, ...more]);
      expect(code, all.slice(0, 400)).toBeLessThan(3);
      expect(all.length).toBeGreaterThan(20);
      const at = steering.exec(all.replaceAll("\r\n", "\n"));
      expect(
        at === null ? "" : JSON.stringify(all.slice(Math.max(0, at.index - 60), at.index + 20)),
      ).toBe("");
      if (more.length > 0) expect(() => JSON.parse(all) as unknown).not.toThrow();
    }
  });

  it("as JSON loses nothing of them", () => {
    expect(JSON.parse(jsonOnScreen(JSON.stringify({ a: steer })))).toEqual({ a: steer });
  });

  it("goes through one way out", () => {
    const folder = fileURLToPath(new URL("../../src/command-line", import.meta.url));
    const printing = readdirSync(folder).filter((name) =>
      /\bconsole\.(?:log|error|warn)\(|\bstd(?:out|err)\.write\(|\bprocess\[\w+\]\.write\(/.test(
        readFileSync(join(folder, name), "utf8").replace(/"[^"\n]*"/g, '""'),
      ),
    );
    // Benches and the build are the developers'; a fault of ours keeps its trace; progress goes through onScreen.
    expect(printing.sort()).toEqual(
      [
        "answering.ts",
        "before-run.mjs",
        "bench.ts",
        "check.ts",
        "exit-codes.ts",
        "on-screen.ts",
      ].sort(),
    );
  });
});
