import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { askSeasons } from "../../src/analysis/ask-seasons.js";
import { leaveOutPeople } from "../../src/analysis/leave-out-people.js";
import { openArchive } from "../../src/archive/open-archive.js";
import { addToArchive } from "../../src/publish/add-to-archive.js";
import { readStudy } from "../../src/records/files/read-study.js";
import type { Study } from "../../src/records/study.js";
import { buildSeries } from "../../src/series/build-series.js";
import { engineIsHere, makeStudy, unlessHere } from "./small-study.js";

let work: string;
beforeAll(() => {
  work = mkdtempSync(join(tmpdir(), "gramline-back-"));
});
afterAll(() => rmSync(work, { recursive: true, force: true }));

/** Tables and what people decided, blank cells of optional columns apart. */
const plain = ({ tables, decisions = [], standIns = [] }: Study) =>
  JSON.parse(
    JSON.stringify({ tables, decisions, standIns }, (_, value: unknown) => value ?? undefined),
  );

describe.skipIf(!engineIsHere)(`a study read back from an archive${unlessHere}`, () => {
  it("is the study that was added, cell for cell", async () => {
    const to = join(work, "back");
    const folder = makeStudy(join(work, "back-study"));
    await addToArchive(folder, { to, facility: "oak", withPeople: true });
    await addToArchive(folder, { to, facility: "elm" });
    const archive = await openArchive(to);
    const study = await readStudy(folder);
    const back = await archive.study({ facilities: ["oak"] });
    expect(plain(back)).toEqual(plain(study));
    expect(back.settings).toEqual(study.settings);
    expect(buildSeries(back).animals.map((a) => a.daily)).toEqual(
      buildSeries(study).animals.map((a) => a.daily),
    );
    expect(plain(await archive.study({ facilities: ["elm"] }))).toEqual(
      plain(leaveOutPeople(study)),
    );
    archive.close();
  });

  it("keeps days, ages and what a blank means where houses differ in their clocks", async () => {
    const to = join(work, "clocks");
    const [east, west] = ["Asia/Tokyo", "America/St_Johns"].map((zone) =>
      makeStudy(join(work, zone.replace("/", "-")), { zone }),
    );
    await addToArchive(east!, { to, facility: "east" });
    await addToArchive(west!, { to, facility: "west" });
    const archive = await openArchive(to);
    const both = await archive.study();
    archive.close();
    expect(both.notices.map((n) => n.code)).toEqual([
      "archive-rows-of-studies",
      "archive-clocks-differ",
    ]);
    const series = buildSeries(both);
    expect(series.animals.map((a) => a.animal.animalId)).toEqual([
      "east/A25-01",
      "east/A25-02",
      "west/A25-01",
      "west/A25-02",
    ]);
    for (const [i, folder] of [east!, west!].entries()) {
      const alone = buildSeries(leaveOutPeople(await readStudy(folder)));
      alone.animals.forEach((animal, k) => {
        const pooled = series.animals[2 * i + k]!;
        expect(pooled.daily.map((d) => [d.feedingDay, d.massG])).toEqual(
          animal.daily.map((d) => [d.feedingDay, d.massG]),
        );
        expect(pooled.feeds.map((f) => [f.feedingDay, f.eatenLowG, f.eatenHighG])).toEqual(
          animal.feeds.map((f) => [f.feedingDay, f.eatenLowG, f.eatenHighG]),
        );
        // Newfoundland's clocks went forward on 9 March: an hour of age at most.
        pooled.daily.forEach((d, n) => {
          expect(Math.abs(d.ageD! - animal.daily[n]!.ageD!)).toBeLessThanOrEqual(1 / 24 + 1e-9);
        });
      });
    }
  });

  it("answers the question of the seasons, and refuses what is not there", async () => {
    const to = join(work, "seasons");
    for (const [i, season] of ["2024", "2025"].entries())
      await addToArchive(
        makeStudy(join(work, `s${season}`), { season, letter: "AB"[i]!, days: 30 }),
        {
          to,
          facility: `house-${i}`,
        },
      );
    const archive = await openArchive(to);
    const answer = await askSeasons(archive, { species: "sea otter" });
    expect(answer.value.summaries.value.groups.map((g) => g.group.season)).toEqual([
      "2024",
      "2025",
    ]);
    const alone = await askSeasons(await archive.study(), { species: "sea otter" });
    expect(JSON.stringify(answer.value.comparison)).toBe(JSON.stringify(alone.value.comparison));
    await expect(archive.study({ facilities: ["house-9"] })).rejects.toThrow(/none is chosen/);
    archive.close();
  });
});
