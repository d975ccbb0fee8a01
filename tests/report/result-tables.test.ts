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
import { contemporaryFeedingTable } from "../../src/report/animal/contemporary-feeding-table.js";
import { curvesTable } from "../../src/report/animal/curves-table.js";
import { flagEvidenceTable } from "../../src/report/animal/flag-evidence-table.js";
import { observationsTable } from "../../src/report/animal/observations-table.js";
import { animalsTable } from "../../src/report/day/animals-table.js";
import { conversionTable, ratioText } from "../../src/report/day/conversion-table.js";
import { flagsTable } from "../../src/report/day/flags-table.js";
import { gainsTable } from "../../src/report/day/gains-table.js";
import { feedingTable } from "../../src/report/feeding/feeding-table.js";
import { growthTable } from "../../src/report/husbandry/growth-table.js";
import { methodsSection } from "../../src/report/husbandry/methods-section.js";
import { recordsTable } from "../../src/report/records/records-table.js";
import { scaleChecksTable } from "../../src/report/records/scale-checks-table.js";
import { setAsideTable } from "../../src/report/records/set-aside-table.js";
import { slipsTable } from "../../src/report/records/slips-table.js";
import { animalLabel } from "../../src/report/section/animal-label.js";
import { blockText, sectionText } from "../../src/report/section/plain-text.js";
import { tableRows } from "../../src/report/section/table-rows.js";

/** The demo study is invented; it serves here to see every table filled, not as truth. */
const demo = fileURLToPath(new URL("../fixtures/demo-853cc0e", import.meta.url));

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
      recordsTable(analysis),
      setAsideTable(analysis),
      slipsTable(analysis),
      gainsTable(analysis, { who: "all" }),
      conversionTable(analysis, analysis.animals),
      flagsTable(analysis),
      flagEvidenceTable(analysis, animal),
      curvesTable(animal),
      growthTable(analysis.animals),
      feedingTable(analysis.animals),
      animalsTable(analysis, analysis.animals),
      scaleChecksTable(analysis, animal),
      observationsTable(analysis, animal),
      contemporaryFeedingTable(contemporaryFeeding(analysis, animal)),
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
    for (const row of recordsTable(analysis).rows) {
      expect(row[2]).toBe((row[3] as number) + (row[5] as number));
    }
  });

  it("name every animal in care in the day's list, and say what no flag means", () => {
    const table = flagsTable(analysis);
    const inCare = analysis.animals.filter((a) => a.inCare).map((a) => animalLabel(a));
    expect(new Set(table.rows.map((row) => row[0]))).toEqual(new Set(inCare));
    expect(table.caption).toMatch(/Not flagged does not mean healthy/);
  });

  it("hand numbers on unrounded, each with its standard error", () => {
    const rows = tableRows(gainsTable(analysis));
    const animal = analysis.animals.find((a) => a.inCare)!;
    const row = rows.find((r) => r["Animal"] === animalLabel(animal))!;
    expect(row["Gain (g/d)"]).toBe(animal.gain.recent.gain.value);
    expect(row["Gain (g/d) SE"]).toBe(animal.gain.recent.gain.se);
  });

  it("say unbounded where a ratio has no end, and the reason where there is no ratio", () => {
    const interval = { lower: 4.2, upper: null, level: 0.95 };
    expect(ratioText({ value: 9.87, unit: "g/g", range: null, interval }, plainWording)).toBe(
      "9.9 (4.2 to unbounded)",
    );
    const never = analysis.animals.find((a) => a.conversion.value.feedPerGain.asFed.value === null)!
      .conversion.value.feedPerGain.asFed;
    expect(ratioText(never, plainWording).length).toBeGreaterThan(10);
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
    const said = sectionText(methodsSection(changed));
    expect(said).toMatch(/sea otter: \{"veryYoung":21\}/);
    expect(said).toMatch(/Decisions about the records/);
    expect(sectionText(methodsSection(result))).not.toMatch(/as changed by the user/);
  });

  it("find an animal by id or name, and tell an unknown one apart", () => {
    expect(animalOf(analysis, "o24-02").animalId).toBe("O24-02");
    expect(animalOf(analysis, "Nessock").animalId).toBe("O24-02");
    expect(() => animalOf(analysis, "Nesock")).toThrow(/"Nesock" is none of.*Is Nessock meant/);
    expect(() => animalOf(analysis, "zzz")).toThrow(/Look in the animals table/);
  });
});
