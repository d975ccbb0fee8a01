import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { beforeAll, describe, expect, it } from "vitest";
import { analyse } from "../../src/analysis/analyse.js";
import { animalOf } from "../../src/analysis/animal-of.js";
import { examinationQuestions } from "../../src/analysis/examination-questions.js";
import { expectedWeek } from "../../src/analysis/expected-week.js";
import { explainSlowGain } from "../../src/analysis/explain-slow-gain.js";
import { intakeAtTheMargin } from "../../src/analysis/intake-at-the-margin.js";
import type { AnimalAnalysis, StudyAnalysis } from "../../src/analysis/study-analysis.js";
import { whatHappened } from "../../src/analysis/what-happened.js";
import { whatWouldChange } from "../../src/analysis/what-would-change.js";
import { flagCloser } from "../../src/analysis/when-flag-closes.js";
import { animalCourseChart } from "../../src/charts/animal-course-chart.js";
import { palette } from "../../src/charts/palette.js";
import { renderSvg } from "../../src/charts/render-svg.js";
import { noticeText } from "../../src/core/catalogue.js";
import { readStudy } from "../../src/records/files/read-study.js";
import type { Study } from "../../src/records/study.js";
import { changeOfGainSection } from "../../src/report/animal/change-of-gain-section.js";
import { expectedWeekPicture } from "../../src/report/animal/expected-week-picture.js";
import {
  expectedWeekSection,
  expectedWeekTable,
} from "../../src/report/animal/expected-week-table.js";
import { happeningsTable } from "../../src/report/animal/happenings-table.js";
import { inShortSection } from "../../src/report/animal/in-short-section.js";
import { missingGramsTable } from "../../src/report/animal/missing-grams-table.js";
import { questionsSection } from "../../src/report/animal/questions-section.js";
import { realOrNotTable } from "../../src/report/animal/real-or-not-table.js";
import { slowCourse } from "../../src/report/animal/slow-course.js";
import { timelinePicture } from "../../src/report/animal/timeline-picture.js";
import { whatWouldChangeSection } from "../../src/report/animal/what-would-change-section.js";
import { blockText, sectionText } from "../../src/report/section/plain-text.js";
import { notPlain } from "../core/plain-data.js";

/**
 * The demo study is invented and its truth file says what is true behind it: the
 * page must come to it from the records alone, or say that it cannot.
 */
const demo = fileURLToPath(new URL("../fixtures/demo-853cc0e", import.meta.url));
const truth = JSON.parse(readFileSync(`${demo}/truth.json`, "utf8")) as {
  slowGainers: { animal: string; from: string; trulySlow: boolean; cause: string }[];
  animals: { animal: string; mass: [number, number][] }[];
};

const cases = [
  ["O24-02", "2024-04-20"],
  ["O22-02", "2022-04-28"],
  ["O22-05", "2022-07-25"],
  ["O21-03", "2021-04-17"],
  ["S24-03", "2024-07-14"],
] as const;

function found(analysis: StudyAnalysis, animal: AnimalAnalysis, study: Study) {
  const { change, real, missing, explanations, shortfall } = explainSlowGain(
    analysis,
    animal,
    study.tables.housing,
  );
  const margin = intakeAtTheMargin(analysis, animal, missing.value);
  const week = expectedWeek(analysis, animal);
  const what = whatWouldChange(analysis, animal, {
    week: week.value,
    change: change.value,
    shortfall,
  });
  const happened = whatHappened(analysis, animal, { housing: study.tables.housing });
  const questions = examinationQuestions(analysis, animal, {
    real: real.value,
    change: change.value,
    missing: missing.value,
    margin: margin.value,
    happened,
  });
  return {
    ...{ analysis, animal, change, real, missing, margin, week, what, happened, questions },
    explanations,
  };
}

describe("the page of a slow gainer", () => {
  const pages = new Map<string, ReturnType<typeof found>>();
  let study: Study;
  beforeAll(async () => {
    study = await readStudy(demo);
    for (const [id, onDay] of cases) {
      const { value } = await analyse(study, { onDay });
      pages.set(id, found(value, animalOf(value, id), study));
    }
  }, 120_000);
  const page = (id: string) => pages.get(id)!;
  const verdict = (id: string, question: string) =>
    page(id).real.value.answers.find((a) => a.question === question)!.verdict;

  it("finds the scale where it drifts, from its failed checks, and about the true mass", () => {
    expect(verdict("O22-05", "scale")).toBe("found");
    const failed = page("O22-05").real.value.answers[0]!.sentences.find(
      (s) => s.code === "real-scale-failed",
    )!;
    expect(failed.parameters["scale"]).toBe("bench-2");
    // The truth gives 3108 g at 48 days and 3456 g at 55: the check before, of six days
    // earlier, knows only a part of the drift since.
    const mass = truth.animals.find((a) => a.animal === "O22-05")!.mass;
    const at = (age: number) => mass.find(([a]) => a === age)![1];
    const written = failed.parameters["mass"] as number;
    const corrected = failed.parameters["corrected"] as number;
    expect(written).toBeLessThan(at(48));
    expect(corrected).toBeGreaterThan(written + 0.6 * (at(48) - written));
    expect(corrected).toBeLessThan(at(55));
  });

  it("never concludes the scale for the animals whose scale passed its checks", () => {
    for (const id of ["O24-02", "O22-02", "O21-03", "S24-03"]) {
      expect(verdict(id, "scale"), id).not.toBe("found");
    }
  });

  it("gives the day of the change, or one within the illness before it, inside its interval", () => {
    const eats = truth.slowGainers.find((s) => s.animal === "O24-02")!;
    const { value } = page("O24-02").change;
    expect(value.raised).toBe(true);
    expect(value.earliest! <= eats.from && eats.from <= value.latest!).toBe(true);
    // The illness of O22-02 is treated from 2022-04-05; its poor conversion follows.
    const ill = page("O22-02").change.value;
    expect(ill.since! >= "2022-03-29" && ill.since! <= "2022-04-08").toBe(true);
    for (const { change } of pages.values()) {
      const { since, earliest, latest } = change.value;
      if (since === null) continue;
      expect(earliest! <= since && since <= latest!).toBe(true);
    }
  });

  it("lets intake account for the animal that eats too little, and not for the one that converts poorly", () => {
    const little = page("O24-02");
    const { missing, fromIntake, rest } = little.missing.value;
    expect(fromIntake.interval!.lower!).toBeGreaterThan(0);
    expect(fromIntake.value! + rest.value!).toBeCloseTo(missing.value!, 9);
    const { fromIntake: atMargin, rest: restAtMargin } = little.margin.value;
    expect(atMargin.value! + restAtMargin.value!).toBeCloseTo(missing.value!, 9);
    expect(atMargin.interval!.upper!).toBeGreaterThan(missing.value!);
    const poor = page("O22-02");
    // Over all days since the change it ate as much as the others, to a gram of gain in 25 days.
    expect(poor.missing.value.fromIntake.value!).toBeLessThan(
      0.05 * poor.missing.value.missing.value!,
    );
    expect(poor.margin.value.rest.interval!.lower!).toBeGreaterThan(0);
    expect(poor.questions.map((q) => q.code)).toContain("ask-rest");
    expect(little.questions.map((q) => q.code)).toContain("ask-intake");
  });

  it("puts the danger first for the animal that fails, and expects no week of it", () => {
    const codes = page("O21-03").what.value.findings.map((f) => f.sentence.code);
    expect(codes.slice(0, 2)).toEqual(["decisive-now", "decisive-losing"]);
    expect(page("O21-03").questions.map((q) => q.code)).toContain("ask-losing");
    expect(page("O21-03").week.value.ownCourse.gain.value).toBeLessThan(0);
  });

  it("takes the fast of the seal for no slowing, carries no course over it, and takes nobody for exchanged", () => {
    const seal = page("S24-03");
    // Days of the fast are left out of the watch, so that no change of gain is made of them.
    expect(seal.change.value.sentences.map((s) => s.code)).toEqual(["change-none"]);
    expect(seal.change.value.raised).toBe(false);
    // Weighed often enough since: its level stands anew, and the loss of the fast is no gain of its own.
    expect(seal.week.value.refused).toBeNull();
    expect(seal.week.value.ownCourse.gain.value).toBeGreaterThan(0);
    expect(expectedWeekPicture(seal.animal, seal.week).rows?.length).toBeGreaterThan(10);
    expect(seal.what.value.findings.map((f) => f.finding)).not.toContain("known-weight check");
    for (const [id] of cases) expect(verdict(id, "swap"), id).not.toBe("found");
  });

  it("closes the flag for a lasting good gain, never for a loss, by replaying the flags", () => {
    const { analysis, animal, week } = page("O24-02");
    const levelG = week.value.level.value!;
    const at = (slope: number) => flagCloser(analysis, animal)({ levelG, slope, aheadD: 40 });
    const [good, better] = [at(0.012).closesOn, at(0.017).closesOn];
    expect(good! > better!).toBe(true);
    expect(better! > analysis.onDay).toBe(true);
    expect(at(-0.01).closesOn).toBeNull();
    // What the page says of the week agrees with a replay of the week.
    const said = page("O24-02").what.value.findings.find((f) => f.finding === "flag closes")!;
    expect(said.sentence.code).toBe("decisive-flag-stays");
    const aheadD = week.value.days.length;
    const { mostGainGPerD } = said.evidence as { mostGainGPerD: number };
    const slope = Math.log1p((mostGainGPerD * aheadD) / levelG) / aheadD;
    expect(slope).toBeGreaterThan(0);
    expect(flagCloser(analysis, animal)({ levelG, slope, aheadD }).closesOn).toBeNull();
  });

  it("orders the limits, widens them with time", () => {
    for (const { week } of pages.values()) {
      let width = 0;
      for (const d of week.value.days) {
        for (const m of [d.ownCourse, ...(d.asTheOthers === null ? [] : [d.asTheOthers])]) {
          expect(m.lower95G).toBeLessThanOrEqual(m.lower80G);
          expect(m.lower80G).toBeLessThan(m.massG);
          expect(m.massG).toBeLessThan(m.upper80G);
          expect(m.upper80G).toBeLessThanOrEqual(m.upper95G);
        }
        const ratio = d.ownCourse.upper95G / d.ownCourse.lower95G;
        expect(ratio).toBeGreaterThanOrEqual(width - 1e-12);
        width = ratio;
      }
    }
  });

  it("stands the true cause of the demo among the first two rivals, and never below an excuse", () => {
    const first = (id: string) =>
      page(id)
        .explanations.value.rivals.slice(0, 2)
        .map((r) => r.rival);
    expect(first("O24-02")).toContain("fed less than ordered");
    expect(first("O22-02")[0]).toBe("illness signs");
    expect(first("O21-03")[0]).toBe("illness signs");
    expect(first("O22-05")[0]).toBe("scale");
    // A seal in its fast is explained by the fast.
    const seal = page("S24-03").explanations.value;
    expect(seal.headline.code).toBe("explained-fast");
    expect(seal.rivals.filter((r) => r.verdict === "likely")).toEqual([]);
  });

  it("says in short only what stands in the table, with one number for each quantity", () => {
    for (const p of pages.values()) {
      const { rivals, inShort, headline, quantities, from } = p.explanations.value;
      const table = new Set(rivals.flatMap((r) => [...r.speaksFor, ...r.speaksAgainst, ...r.ask]));
      for (const n of inShort) if (n !== headline) expect(table.has(n), n.code).toBe(true);
      expect(headline.parameters["gain"]).toBe(quantities.gain.value);
      expect(p.missing.value.from).toBe(from);
      expect(rivals).toHaveLength(11);
    }
  });

  it("shows every part without raw undefined, NaN, missing parameter or object", () => {
    for (const p of pages.values()) {
      const { analysis, animal } = p;
      const all = [
        blockText(realOrNotTable(analysis, p.real)),
        sectionText(changeOfGainSection(analysis, p.change, p.explanations.value)),
        sectionText(expectedWeekSection(analysis, p.week)),
        blockText(expectedWeekTable(p.week)),
        blockText(missingGramsTable(p.missing, p.margin)),
        sectionText(whatWouldChangeSection(analysis, p.what)),
        blockText(happeningsTable(analysis, animal, p.happened)),
        sectionText(questionsSection(analysis, p.questions)),
        sectionText(inShortSection(analysis, animal, p)),
      ].join("\n");
      expect(all).not.toMatch(/undefined|NaN|\[object|Infinity|∞/);
      expect(all).not.toMatch(/(^|[\s(])\?[\s).,;]/);
      expect(all).not.toMatch(/real-|decisive-|ask-[a-z]|change-[a-z]+-/);
      expect(
        p.questions.every((q) => noticeText(q).includes("?") || q.code === "ask-after-scale"),
      ).toBe(true);
    }
  });

  it("draws the change through every panel of the timeline, on the axis of all of them", () => {
    const p = page("O24-02");
    const slow = slowCourse(p.analysis, p.animal, p);
    const chart = timelinePicture(p.analysis, p.animal, { days: 42, slow, happened: p.happened });
    const panels = chart.spec["vconcat"] as {
      layer: { mark: { type: string; color?: string } }[];
    }[];
    expect(panels.length).toBeGreaterThanOrEqual(5);
    for (const panel of panels) {
      const drawn = panel.layer.map((l) => l.mark);
      expect(drawn.some((m) => m.type === "rect")).toBe(true);
      expect(drawn.some((m) => m.type === "rule" && m.color === palette.alarm)).toBe(true);
    }
    expect(chart.caption).toMatch(/26\sMar/);
    expect(renderSvg(chart.spec)).toContain("<svg");
    expect(renderSvg(expectedWeekPicture(p.animal, p.week).spec)).toContain("<svg");
  });

  it("draws dates below an animal of which nothing was written", () => {
    const chart = animalCourseChart({
      name: "A",
      zone: "UTC",
      gainDays: 7,
      from: 0,
      to: 5 * 86_400_000,
      masses: [
        { at: 86_400_000, massG: 2000 },
        { at: 2 * 86_400_000, massG: 2020 },
      ],
      gains: [],
      intake: [],
      planned: [],
      temperatures: [],
      marks: [],
    });
    expect(renderSvg(chart.spec)).toMatch(/>\d Jan</);
    expect(chart.caption).toContain("1970");
  });

  it("is plain data, and nothing later than the day moves it", async () => {
    const p = page("O22-02");
    for (const r of [p.change, p.real, p.margin, p.week, p.what, p.explanations]) {
      expect(JSON.stringify(r)).not.toMatch(/NaN|Infinity/);
      expect(notPlain(r)).toEqual([]);
    }
    const end = Date.parse("2022-04-30T00:00:00Z");
    const later = {
      ...study,
      tables: {
        ...study.tables,
        weighings: study.tables.weighings.map((w) =>
          w.at > end ? { ...w, massG: 2 * w.massG + 9 } : w,
        ),
        scaleChecks: study.tables.scaleChecks.map((c) => (c.at > end ? { ...c, readingG: 1 } : c)),
      },
    };
    const { value } = await analyse(later, { onDay: "2022-04-28" });
    const again = found(value, animalOf(value, "O22-02"), later);
    expect(again.change).toEqual(p.change);
    expect(again.real).toEqual(p.real);
    expect(again.week).toEqual(p.week);
    expect(again.what).toEqual(p.what);
  });
});
