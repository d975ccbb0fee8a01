import { mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import {
  requireNamingNobody,
  withoutPath,
} from "../../src/command-line/notebook-without-people.js";
import { runCommand } from "../../src/command-line/run-command.js";
import { addToArchive } from "../../src/publish/add-to-archive.js";
import { removeFromArchive } from "../../src/publish/remove-from-archive.js";
import { engineIsHere, makeStudy, unlessHere } from "../archive/small-study.js";
import { leaveNothingBehind } from "./after-commands.js";

/**
 * Pages without people are asked for, and people are handed in beside the study: by a value
 * that the executed copy repeats, by the path of a folder, by an archive that keeps them.
 */
let work: string;
let study: string;
beforeAll(() => {
  work = mkdtempSync(join(tmpdir(), "gramline-by-options-"));
  study = makeStudy(join(work, "study of Zorvane"));
});
afterAll(() => rmSync(work, { recursive: true, force: true }));
leaveNothingBehind();

async function refused(...set: string[]): Promise<string> {
  let said = "";
  vi.spyOn(console, "error").mockImplementation((text) => {
    said += String(text);
  });
  const out = join(work, "out");
  const words = ["run-notebooks", "--study", study, "--without-people", "--out", out];
  expect(await runCommand([...words, "--set", ...set])).toBe(2);
  expect(readdirSync(work)).not.toContain("out");
  return said;
}

describe("people handed to notebooks without people", () => {
  it.each(["milestone=told by Zorvane", "animalId=Zorvane", "species=Zorvane's seal"])(
    "by --set %s are refused before anything runs",
    async (set) => {
      const said = await refused(set);
      expect(said).toMatch(/needed a value that names nobody, but .* was given/);
      expect(said).toContain(`--set ${set.split("=")[0]}`);
    },
  );

  it("what names nobody goes through", async () => {
    const values = { curve: "von-bertalanffy-mass", species: "sea otter", onDay: "2025-03-20" };
    await requireNamingNobody(
      { ...values, animalId: "O25-04", fromAgeD: 21, ages: "21-63", season: "null" },
      work,
    );
  });

  it("paths of folders do not stand in the copy", () => {
    const source = `const archiveFolder: string | null = ${JSON.stringify(work)};`;
    const cell = { cell_type: "code" as const, metadata: {}, source };
    const notebook = { nbformat: 4, nbformat_minor: 5, metadata: {}, cells: [cell] };
    expect(JSON.stringify(withoutPath(notebook, work, "archive"))).not.toContain(work);
  });

  it.skipIf(!engineIsHere)(`by an archive that keeps them are refused${unlessHere}`, async () => {
    const to = join(work, "houses");
    await addToArchive(study, { to, facility: "oak", name: "one", withPeople: true });
    const other = makeStudy(join(work, "other"), { letter: "B" });
    await addToArchive(other, { to, facility: "mill" });
    const said = await refused(`archiveFolder=${to}`);
    expect(said).toMatch(/needed an archive without people, but a study of oak was added/);
    expect(said).not.toContain("Zorvane");
    await removeFromArchive(to, "oak", null);
    await requireNamingNobody({ archiveFolder: to }, work);
  });
});
