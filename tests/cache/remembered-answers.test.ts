import {
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  truncateSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { leaveOutPeople } from "../../src/analysis/leave-out-people.js";
import { rememberedOf } from "../../src/core/remembered.js";
import * as g from "../../src/index.js";
import { readStudy as readFiles } from "../../src/records/files/read-study.js";
import type { Study } from "../../src/records/study.js";
import { ownCache } from "./own-cache.js";
import { twoSeasons } from "./two-seasons.js";

/**
 * What is asked of a study comes out the same to the last character with the cache,
 * without it, and with a damaged one; nothing outside the project is needed to say so.
 */
const { folder, answers } = ownCache();
const study = mkdtempSync(join(tmpdir(), "gramline-remembered-"));
afterAll(() => rmSync(study, { recursive: true, force: true }));

type Ask = (study: Study) => Promise<unknown>;
const questions: Readonly<Record<string, Ask>> = {
  report: (s) => g.askReport(s, { season: "2025", example: "B1", seed: 3 }),
  "an earlier day": (s) => g.analyse(s, { onDay: "2025-05-30", curves: [], gainDays: 5 }),
  day: (s) => g.askDay(s, { onDay: "2025-05-30", curves: [], gainDays: 5 }),
  "hand-over": (s) => g.askHandOver(s, { onDay: "2025-05-30", gainDays: 5 }),
  seasons: (s) => g.askSeasons(s, { margin: 10, changeDay: "2025-05-20", seed: 5 }),
  "feeding plan": (s) => g.askFeedingPlan(s, { targetG: 9000 }),
  curve: (s) => g.askCurve(s, { animal: "A1" }),
  cohort: (s) => g.askCohort(s, { curve: "logistic" }),
  "slow gainer": (s) => g.askSlowGainer(s, { animal: "B2" }),
};

async function everything(s: Study): Promise<string[]> {
  const all: string[] = [];
  for (const ask of Object.values(questions)) all.push(JSON.stringify(await ask(s)));
  return all;
}

let plain: string[];
beforeAll(async () => {
  for (const [name, text] of Object.entries(twoSeasons())) writeFileSync(join(study, name), text);
  plain = await everything(await readFiles(study));
});

describe("every question", () => {
  it("gets the same answer without, with an empty and with a full cache", async () => {
    expect(await everything(await g.readStudy(study))).toEqual(plain);
    const kept = answers();
    // Flags of two days, one a question that takes long, and four animals in three ways.
    expect(kept).toHaveLength(2 + 6 + 3 * 4);
    const stamps = kept.map((name) => readFileSync(join(folder(), name), "base64"));
    expect(await everything(await g.readStudy(study))).toEqual(plain);
    // The second time nothing had to be kept anew.
    expect(answers()).toEqual(kept);
    expect(kept.map((name) => readFileSync(join(folder(), name), "base64"))).toEqual(stamps);
  });

  it("gets the same answer where files of the cache are cut off, changed or taken away", async () => {
    await everything(await g.readStudy(study));
    for (const [i, name] of answers().entries()) {
      const path = join(folder(), name);
      const bytes = readFileSync(path);
      if (i % 3 === 0) truncateSync(path, bytes.length >> 1);
      else if (i % 3 === 1) {
        bytes[bytes.length >> 1]! ^= 4;
        writeFileSync(path, bytes);
      } else rmSync(path);
    }
    expect(await everything(await g.readStudy(study))).toEqual(plain);
  });

  it("gets the same answer where nothing can be kept", async () => {
    process.env["GRAMLINE_CACHE"] = join(study, "cache");
    const analysis = JSON.parse(plain[0]!).value.analysis;
    expect(JSON.stringify(await g.analyse(await g.readStudy(study)))).toBe(
      JSON.stringify(analysis),
    );
    expect(readdirSync(study)).not.toContain("cache");
    // Taken away between reading and asking.
    process.env["GRAMLINE_CACHE"] = mkdtempSync(join(tmpdir(), "gramline-gone-"));
    const read = await g.readStudy(study);
    rmSync(process.env["GRAMLINE_CACHE"], { recursive: true });
    expect(JSON.stringify(await g.analyse(read))).toBe(JSON.stringify(analysis));
  });
});

describe("what is kept", () => {
  it("hangs on every file of the study: one changed character asks anew", async () => {
    const change: Readonly<Record<string, (text: string) => string>> = {
      "study.json": (text) =>
        text.replace('"feeding_day_start_hour":6', '"feeding_day_start_hour":5'),
      "weighings.csv": (text) => text.replace("B1,2025-05-30 08:00", "B1,2025-05-30 08:01"),
      "answers.csv": () => "animal_id,reason,at,until,by\n",
      "a-prior.json": () => "{}",
    };
    for (const [name, changed] of Object.entries(change)) {
      const before = twoSeasons()[name];
      await g.askHandOver(await g.readStudy(study));
      const kept = answers().length;
      const text = changed(before ?? "");
      expect(text).not.toBe(before);
      writeFileSync(join(study, name), text);
      await g.askHandOver(await g.readStudy(study));
      // The flags of the day, and each of the four animals.
      expect(answers(), name).toHaveLength(kept + 5);
      if (before === undefined) rmSync(join(study, name));
      else writeFileSync(join(study, name), before);
    }
  });

  it("hangs on every option", async () => {
    const s = await g.readStudy(study);
    // With how much is worked out anew by each: the flags, and where they hang on it the four animals.
    const asked = [
      [{}, 5],
      [{ earlierSeasons: false }, 1],
      [{ energy: "stated" }, 5],
      [{ flagLimits: { lossPct: 4 } }, 1],
      [{ flagLimits: { feedGapTimes: null } }, 1],
      [{ onDay: "2025-05-29" }, 5],
      [{ gainDays: 5 }, 4],
      [{ conversionDays: 10 }, 4],
    ] as const;
    let kept = 0;
    for (const [options, anew] of asked) {
      const found = JSON.stringify(await g.askHandOver(s, options));
      kept += anew;
      expect(answers(), JSON.stringify(options)).toHaveLength(kept);
      expect(found).toBe(JSON.stringify(await g.askHandOver(await readFiles(study), options)));
    }
  });

  it("is of the study as it was read: a copy, or one without people, has none of it", async () => {
    const s = await g.readStudy(study);
    expect(rememberedOf(s)).not.toBeNull();
    expect(JSON.stringify(s)).toBe(JSON.stringify(await readFiles(study)));
    const fewer = {
      ...s,
      tables: { ...s.tables, weighings: s.tables.weighings.filter((w) => w.animalId !== "B1") },
    };
    const copy = JSON.parse(JSON.stringify(s)) as typeof s;
    for (const other of [fewer, leaveOutPeople(s), copy]) {
      expect(rememberedOf(other)).toBeNull();
      await g.askHandOver(other);
    }
    expect(answers()).toEqual([]);
    const spoil = () => {
      (s.tables.animals[0] as { season: string }).season = "another";
    };
    expect(spoil).toThrow(TypeError);
    // A row of a long table is made anew: what is done to it does nothing to the study.
    const first = () => [...s.tables.weighings][0] as { massG: number };
    const { massG } = first();
    first().massG = massG + 1;
    expect(first().massG).toBe(massG);
  });
});
