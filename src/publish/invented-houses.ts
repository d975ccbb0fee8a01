import { rmSync } from "node:fs";
import { mkdtemp } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { studyOfAnimals } from "../analysis/study-of-animals.js";
import type { Study } from "../records/study.js";
import { addToArchive } from "./add-to-archive.js";

/**
 * Shares the animals of a study out to houses that do not exist, in an archive that lasts
 * as long as the process: something to try the questions of an archive on.
 *
 * @param names the facilities; the animals are dealt to them in turn.
 * @returns the folder of the archive.
 * @throws UsageError where DuckDB is not installed.
 * @example const folder = await inventedHouses(study, ["north", "mill", "oak"])
 */
export async function inventedHouses(study: Study, names: readonly string[]): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), "gramline-houses-"));
  process.once("exit", () => rmSync(folder, { recursive: true, force: true }));
  const ids = [...study.tables.animals].map((animal) => animal.animalId);
  for (const [i, facility] of names.entries()) {
    const house = studyOfAnimals(study, (id) => ids.indexOf(id) % names.length === i);
    await addToArchive(house, { to: folder, facility });
  }
  return folder;
}
