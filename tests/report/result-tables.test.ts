import { fileURLToPath } from "node:url";
import { beforeAll, describe, expect, it } from "vitest";
import { analyse } from "../../src/analysis/analyse.js";
import { animalOf } from "../../src/analysis/animal-of.js";
import { contemporaryFeeding } from "../../src/analysis/contemporary-feeding.js";
import type { StudyAnalysis } from "../../src/analysis/study-analysis.js";
import { notice } from "../../src/core/notice.js";
import type { Result } from "../../src/core/result.js";
import { plainWording } from "../../src/core/wording.js";
import { readStudy } from "../../src/records/files/read-study.js";
import * as tables from "../../src/report/index.js";
import { blockText, sectionText } from "../../src/report/section/plain-text.js";
import { tableRows } from "../../src/report/section/table-rows.js";

/** The demo study is invented; it serves here to see every table filled, not as truth. */
const demo = fileURLToPath(new URL("../../data-demo", import.meta.url));

describe("tables of an analysis", () => {
  let result: Result<"analyse", StudyAnalysis>;
  let analysis: StudyAnalysis;
  beforeAll(async () => {
    result = await analyse(await readStudy(demo), { onDay: "2024-04-20" });
    analysis = result.value;
  });

  it("show no raw undefined, NaN or object anywhere", () => {
    const animal = animalOf(analysis, "O24-02");
    const all = [
      tables.recordsTable(analysis),
      tables.setAsideTable(analysis),
      tables.slipsTable(analysis),
      tables.gainsTable(analysis, { who: "all" }),
      tables.conversionTable(analysis, analysis.animals),
      tables.flagsTable(analysis),
      tables.flagEvidenceTable(analysis, animal),
      tables.curvesTable(animal),
      tables.growthTable(analysis.animals),
      tables.feedingTable(analysis.animals),
      tables.animalsTable(analysis, analysis.animals),
      tables.scaleChecksTable(analysis, animal),
      tables.observationsTable(analysis, animal),
      tables.contemporaryFeedingTable(contemporaryFeeding(analysis, animal)),
    ];
    for (const table of all) {
      expect(table.rows.length, table.name).toBeGreaterThan(0);
      expect(
        table.rows.every((row) => row.length === table.columns.length),
        table.name,
      ).toBe(true);
      expect(blockText(table), table.name).not.toMatch(/undefined|NaN|\[object/);
    }
  });

  it("count every row in as accepted or set aside", () => {
    for (const row of tables.recordsTable(analysis).rows) {
      expect(row[2]).toBe((row[3] as number) + (row[5] as number));
    }
  });

  it("name every animal in care in the day's list, and say what no flag means", () => {
    const table = tables.flagsTable(analysis);
    const inCare = analysis.animals.filter((a) => a.inCare).map((a) => tables.animalLabel(a));
    expect(new Set(table.rows.map((row) => row[0]))).toEqual(new Set(inCare));
    expect(table.caption).toMatch(/Not flagged does not mean healthy/);
  });

  it("hand numbers on unrounded, each with its standard error", () => {
    const rows = tableRows(tables.gainsTable(analysis));
    const animal = analysis.animals.find((a) => a.inCare)!;
    const row = rows.find((r) => r["Animal"] === tables.animalLabel(animal))!;
    expect(row["Gain (g/d)"]).toBe(animal.gain.recent.gain.value);
    expect(row["Gain (g/d) SE"]).toBe(animal.gain.recent.gain.se);
  });

  it("say unbounded where a ratio has no end, and the reason where there is no ratio", () => {
    const interval = { lower: 4.2, upper: null, level: 0.95 };
    expect(
      tables.ratioText({ value: 9.87, unit: "g/g", range: null, interval }, plainWording),
    ).toBe("9.87 (4.2 to unbounded)");
    const never = analysis.animals.find((a) => a.conversion.value.feedPerGain.asFed.value === null)!
      .conversion.value.feedPerGain.asFed;
    expect(tables.ratioText(never, plainWording).length).toBeGreaterThan(10);
  });

  it("tell in the methods what the user changed in a species profile and decided about records", () => {
    const changed = {
      ...result,
      value: {
        ...analysis,
        settings: { ...analysis.settings, speciesOverrides: { "sea otter": { veryYoung: 21 } } },
        series: {
          ...analysis.series,
          notices: [notice("series-no-weighings", "info")],
        },
      },
    };
    const said = sectionText(tables.methodsSection(changed));
    expect(said).toMatch(/sea otter: \{"veryYoung":21\}/);
    expect(said).toMatch(/Decisions about the records/);
    expect(sectionText(tables.methodsSection(result))).not.toMatch(/as changed by the user/);
  });

  it("find an animal by id or name, and tell an unknown one apart", () => {
    expect(animalOf(analysis, "o24-02").animalId).toBe("O24-02");
    expect(animalOf(analysis, "Nessock").animalId).toBe("O24-02");
    expect(() => animalOf(analysis, "Nesock")).toThrow(/"Nesock" is none of.*Is Nessock meant/);
    expect(() => animalOf(analysis, "zzz")).toThrow(/Look in the animals table/);
  });
});
