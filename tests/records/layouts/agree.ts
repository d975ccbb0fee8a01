import { mkdtemp, readFile, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { readFolder } from "../../../src/records/files/read-study.js";
import { saveMapping } from "../../../src/records/files/save-mapping.js";
import { parseStudy } from "../../../src/records/parse-study.js";
import { proposeForStudy, type StudyProposal } from "../../../src/records/propose-for-study.js";
import type { Study } from "../../../src/records/study.js";
import { localText } from "../../../src/units/format-date.js";
import { settings, type Texts } from "../small-study.js";

/** Two animals that every study of these tests has, unless it brings its own table. */
export const twoAnimals = `animal_id,name,species,sex,birth_date_earliest,birth_date_latest,birth_date_basis,admitted_at,season
P1,Bramble,sea otter,female,2025-03-01,2025-03-02,umbilicus,2025-03-04 14:00,2025
P2,Thistle,sea otter,male,2025-03-03,,observed,2025-03-04 15:00,2025
`;

export interface Agreed {
  readonly proposal: StudyProposal;
  /** What was written into study.json. */
  readonly added: readonly string[];
  readonly study: Study;
  readonly settings: Record<string, unknown>;
}

/** Writes a study's folder, agrees once to all that is proposed, and reads it. */
export async function agreedStudy(texts: Texts, more: object = {}): Promise<Agreed> {
  const folder = await mkdtemp(join(tmpdir(), "gramline-"));
  const all: Texts = {
    "study.json": JSON.stringify({ ...settings, blank_tare_is_zero: true, ...more }),
    ...(Object.keys(texts).some((name) => name.startsWith("animals"))
      ? {}
      : { "animals.csv": twoAnimals }),
    ...texts,
  };
  for (const [name, content] of Object.entries(all)) await writeFile(join(folder, name), content);
  const proposal = proposeForStudy(await readFolder(folder));
  const added = await saveMapping(folder, proposal);
  const study = parseStudy(await readFolder(folder));
  const saved = JSON.parse(
    await readFile(join(folder, "study.json"), "utf8"),
  ) as Agreed["settings"];
  return { proposal, added, study, settings: saved };
}

/** Weighings as a person would list them: animal, local time, grams; in order of animal and time. */
export const weighed = (study: Study) =>
  study.tables.weighings
    .map((w) => `${w.animalId} ${localText(w.at, study.settings.zone)} ${w.massG}`)
    .sort();

/** Feeds: animal, local time, grams offered, grams refused ("?" where unknown). */
export const fed = (study: Study) =>
  study.tables.feeds
    .map(
      (f) =>
        `${f.animalId} ${localText(f.at, study.settings.zone)} ${f.offeredG} ${f.refusedG ?? "?"}`,
    )
    .sort();

export const steps = (agreed: Agreed) =>
  agreed.proposal.tables.flatMap((t) => (t.layout ?? []).map((r) => r.step.layout));
