import { noticeText } from "../../core/catalogue.js";
import type { Measured } from "../../core/measured.js";
import type { Notice } from "../../core/notice.js";
import type { Wording } from "../../core/wording.js";
import type { ComparedRation } from "../../planning/compare-rations.js";
import type { DaySheet } from "../../planning/day-sheet.js";
import type { Ration } from "../../planning/ration.js";
import { screenWording } from "../../units/format.js";
import { animalLabel } from "../section/animal-label.js";
import { byName } from "../section/by-name.js";
import { say } from "../section/say.js";
import { type Table, table } from "../section/section.js";

/** One row of a table: texts, numbers, measured numbers. */
export type SheetRow = Readonly<Record<string, string | number | boolean | null | Measured>>;

/**
 * The day sheet as rows to print, one a feed exactly as ordered, animals in
 * order: room for times that are not ordered, for what was refused and for
 * initials. What must be asked first stands as the note of the animal's first row.
 */
export function sheetRows(sheet: DaySheet, zone: string): readonly SheetRow[] {
  const wording = screenWording(zone);
  return sheet.animals.flatMap((a): SheetRow[] => {
    const animal = a.name === null ? a.animalId : `${a.name} (${a.animalId})`;
    const act = a.act === null ? [] : [say("sheet-act", { act: a.act })];
    const note = [
      ...act,
      ...[...a.hold, ...a.measureFirst, ...a.order.said].map((n) =>
        noticeText(byName(n, a), wording),
      ),
      ...a.uncounted.map((u) => u.words),
    ].join(" ");
    const blank = { refusedG: "", initials: "" };
    if (a.rows.length === 0) {
      const diet = a.order.state === "ordered" ? "as written" : a.order.state;
      return [{ animal, time: "–", diet, ordered: "", ...blank, note }];
    }
    return a.rows.map((r, i) => ({
      animal,
      time: r.time ?? "",
      diet: r.dietId ?? "not named",
      ordered: r.amount,
      ...blank,
      note: i === 0 ? note : "",
    }));
  });
}

/** Rations as rows, one an animal: amount, change, energy, share of body mass, and why. */
export function rationRows(rations: readonly Ration[], zone: string): readonly SheetRow[] {
  const wording = screenWording(zone);
  return rations.map((r) => {
    return {
      animal: r.name === null ? r.animalId : `${r.name} (${r.animalId})`,
      status: statusText(r),
      level: r.level.level,
      ordered: r.order.lines.map((line) => line.words).join("; "),
      massG: r.massG.value === null ? null : Math.round(r.massG.value),
      gramsPerDay: r.totalG,
      feeds: r.status === "ration" ? r.feeds.length : null,
      rationKcalPerDay: r.kcal.value,
      rationPercentOfBodyMass: r.shareOfMassPct.value,
      waterMlPerKg: r.waterMlPerKg.value,
      changeFromEatenPct: r.changePct,
      why: sentencesOf(
        r.notices.map((n) => byName(n, r)),
        wording,
      ).join(" "),
    };
  });
}

/** The rations as a table to read: what is ordered, what it comes to, how far from what was eaten. */
export function rationsTable(rations: readonly Ration[]): Table {
  return table(
    "rations",
    say("plan-rations"),
    [
      { title: "Animal" },
      { title: "Status" },
      { title: "Ordered" },
      { title: "Smoothed mass", unit: "g", align: "number", digits: 6 },
      { title: "Amount", unit: "g/d", align: "number", digits: 4 },
      { title: "Ration, by the table of diets", unit: "kcal/d", align: "number", digits: 4 },
      { title: "Share of its mass", unit: "%/d", align: "number", digits: 2 },
      { title: "Against what was eaten", unit: "%", align: "number", digits: 2 },
    ],
    rations.map((r) => [
      animalLabel(r),
      statusText(r),
      r.order.lines.map((line) => line.words).join("; "),
      r.massG.value === null ? null : Math.round(r.massG.value),
      r.totalG,
      r.kcal.value,
      r.shareOfMassPct.value,
      r.changePct === null ? null : Math.round(r.changePct),
    ]),
    say("plan-nobody"),
  );
}

/** Limits and warnings of each ration, an animal a line. */
export function rationReasons(rations: readonly Ration[], zone: string): string[] {
  const wording = screenWording(zone);
  const said = rations.map((r) => ({
    animal: animalLabel(r),
    lines: sentencesOf(
      r.notices.map((n) => byName(n, r)),
      wording,
    ),
  }));
  const times = (line: string) => said.filter(({ lines }) => lines.includes(line)).length;
  // What holds for several alike is said once, after what is an animal's own.
  const shared = [...new Set(said.flatMap(({ lines }) => lines))].filter((l) => times(l) > 2);
  return [
    ...said.flatMap(({ animal, lines }) => {
      const own = lines.filter((line) => !shared.includes(line));
      return own.length === 0 ? [] : [`${animal}: ${own.join(" ")}`];
    }),
    ...shared.map((line) => say("ration-of-several", { n: times(line), line })),
  ];
}

/** Whether an amount is somebody's order or only worked out. */
export function statusText(r: Ration): string {
  if (r.status === "hold") {
    const isDanger = r.level.reasons.some((reason) => reason.level === "danger");
    return say(isDanger ? "ration-hold" : "ration-waits");
  }
  if (r.status === "ration") return r.asOrdered ? "as ordered" : "suggestion";
  return r.status;
}

/** Scenarios side by side as rows. */
export function scenarioRows(compared: readonly ComparedRation[]): readonly SheetRow[] {
  return compared.map((c) => ({
    scenario: c.name,
    status: statusText(c.ration),
    gramsPerDay: c.ration.totalG,
    rationKcalPerDay: c.ration.kcal.value,
    waterMlPerKg: c.ration.waterMlPerKg.value,
    moreG: c.moreG,
    moreKcal: c.moreKcal,
    limitsThatBind: c.ration.limits
      .filter((l) => l.binds)
      .map((l) => l.limit)
      .join(", "),
  }));
}

/** Notices as sentences, without what the status and the sheet say already. */
function sentencesOf(notices: readonly Notice[], wording: Wording): string[] {
  return notices
    .filter((n) => !["ration-review", "ration-hold", "ration-waits"].includes(n.code))
    .map((n) => noticeText(n, wording));
}
