import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { priorOfStudy } from "../../src/analysis/prior-of-study.js";
import { noticeText } from "../../src/core/catalogue.js";
import { findFlags } from "../../src/flags/find-flags.js";
import { readStudy } from "../../src/records/files/read-study.js";
import { buildSeries } from "../../src/series/build-series.js";
import { drawNursery } from "../bench/worlds/world.js";
import { training } from "../bench/worlds/worlds.js";

const made: string[] = [];

/** A study folder with an invented nursery of a species. */
async function folderOf(seasons: readonly number[], more: object, species = "sea otter") {
  const folder = await mkdtemp(join(tmpdir(), "gramline-prior-"));
  made.push(folder);
  const animals = drawNursery(training, { seasons }, 15_406);
  const dateOf = (day: number) => new Date(Date.UTC(2030, 3, 1 + day)).toISOString().slice(0, 10);
  const settings = { title: "x", species, zone: "UTC", blank_tare_is_zero: true, ...more };
  await writeFile(join(folder, "study.json"), JSON.stringify(settings));
  await writeFile(
    join(folder, "animals.csv"),
    `animal_id,name,species,birth_date_earliest,birth_date_latest,birth_date_basis,admitted_at,season\n${animals
      .map((a) => {
        const born = dateOf(Math.round(a.day[0]! - a.age[0]!));
        return `${a.id},Pelu${a.id},${species},${born},${born},observed,${dateOf(a.arrival)} 06:00,${2030 + a.season}`;
      })
      .join("\n")}\n`,
  );
  await writeFile(
    join(folder, "weighings.csv"),
    `animal_id,at,mass_g,coat,meal\n${animals
      .flatMap((a) =>
        a.day.map(
          (d, j) => `${a.id},${dateOf(d)} 08:00,${Math.round(Math.exp(a.logMass[j]!))},dry,before`,
        ),
      )
      .join("\n")}\n`,
  );
  return folder;
}

const priorOf = async (folder: string, species: string | undefined) =>
  priorOfStudy(await readStudy(folder), species);

describe("gramline prior", () => {
  let house = "";
  beforeAll(async () => {
    house = await folderOf([5, 5], {});
  });
  afterAll(async () => {
    for (const folder of made) await rm(folder, { recursive: true, force: true });
  });

  it("writes no row, name, id or date of the study, and another study says what it borrows", async () => {
    const { text, said } = await priorOf(house, undefined);
    for (const { animalId, name } of (await readStudy(house)).tables.animals) {
      expect(text).not.toContain(animalId);
      expect(text).not.toContain(name ?? "?");
    }
    expect(text).not.toMatch(/\d{4}-\d{2}-\d{2}/);
    expect(text.length).toBeLessThan(6000);
    expect(said).toMatch(/sea otter: \d+ animals in 2 seasons/);

    // Ten animals of two seasons tell what a later arrival does, and the command says it.
    const { arrival } = JSON.parse(text) as { arrival: { perDay: number; sd: number } };
    expect(Math.abs(arrival.perDay)).toBeLessThan(4 * arrival.sd);
    expect(said).toMatch(
      /A day later at arrival changes gain by -?[\d.]+ % \(give or take [\d.]+, \d+ animals\)/,
    );

    const other = await folderOf([1], { priors: ["prior.json"] });
    await writeFile(join(other, "prior.json"), text);
    const flags = findFlags(buildSeries(await readStudy(other)));
    const borrowed = flags.notices.find((n) => n.code === "flags-borrowed")!;
    expect(noticeText(borrowed)).toMatch(/0\.\d+ from 1 other nurseries \(\d+ young\)/);
    const alone = findFlags(buildSeries(await readStudy(await folderOf([1], {}))));
    expect(noticeText(alone.notices.find((n) => n.code === "flags-borrowed")!)).toMatch(
      /no prior file is named/,
    );
  });

  it("asks for a species that the study has, and refuses where one animal could be recognised", async () => {
    await expect(priorOf(house, "walrus")).rejects.toThrow(/Choose one of: sea otter/);
    await expect(priorOf(await folderOf([4], {}), undefined)).rejects.toThrow(/at least 8 animals/);
  });
});
