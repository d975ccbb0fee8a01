import { noticeText } from "../../core/catalogue.js";
import type { Measured } from "../../core/measured.js";
import type { Notice } from "../../core/notice.js";
import type { Wording } from "../../core/wording.js";
import type { ComparedRation } from "../../planning/compare-rations.js";
import type { DaySheet } from "../../planning/day-sheet.js";
import type { Ration } from "../../planning/ration.js";
import { screenWording } from "../../units/format.js";

/** One row of a table: texts, numbers, measured numbers. */
export type SheetRow = Readonly<Record<string, string | number | boolean | null | Measured>>;

/**
 * The day sheet as rows to print, one a feed, animals in order: room for what
 * was refused and for initials; one row with the hold text where an animal is on
 * hold.
 */
export function sheetRows(sheet: DaySheet, zone: string): readonly SheetRow[] {
  const wording = screenWording(zone);
  return sheet.animals.flatMap((a): SheetRow[] => {
    const animal = a.name === null ? a.animalId : `${a.name} (${a.animalId})`;
    if (a.status !== "ration") {
      const held = a.status === "hold";
      const diet = held ? "hold: ask the veterinarian" : "no ration";
      const note = wordsOf(a.instead, wording);
      return [{ animal, time: "-", diet, grams: null, ml: null, refusedG: "", initials: "", note }];
    }
    return a.rows.map((r) => ({
      animal,
      time: r.time,
      diet: r.dietId,
      grams: r.g,
      ml: r.ml === null ? null : Math.round(r.ml),
      refusedG: "",
      initials: "",
      note: "",
    }));
  });
}

/** Rations as rows, one an animal: amount, change, energy, share of body mass, and why. */
export function rationRows(rations: readonly Ration[], zone: string): readonly SheetRow[] {
  const wording = screenWording(zone);
  return rations.map((r) => {
    return {
      animal: r.name === null ? r.animalId : `${r.name} (${r.animalId})`,
      status: r.status === "hold" ? "hold: ask the veterinarian" : r.status,
      massG: r.massG.value === null ? null : Math.round(r.massG.value),
      gramsPerDay: r.totalG,
      feeds: r.status === "ration" ? r.feeds.length : null,
      kcalPerDay: r.kcal.value,
      percentOfBodyMass: r.shareOfMassPct.value,
      waterMlPerKg: r.waterMlPerKg.value,
      changeFromEatenPct: r.changePct,
      why: wordsOf(r.notices, wording),
    };
  });
}

/** Scenarios side by side as rows. */
export function scenarioRows(compared: readonly ComparedRation[]): readonly SheetRow[] {
  return compared.map((c) => ({
    scenario: c.name,
    status: c.ration.status === "hold" ? "hold: ask the veterinarian" : c.ration.status,
    gramsPerDay: c.ration.totalG,
    kcalPerDay: c.ration.kcal.value,
    waterMlPerKg: c.ration.waterMlPerKg.value,
    moreG: c.moreG,
    moreKcal: c.moreKcal,
    limitsThatBind: c.ration.limits
      .filter((l) => l.binds)
      .map((l) => l.limit)
      .join(", "),
  }));
}

/** Notices as one text, without what the status and the sheet say already. */
function wordsOf(notices: readonly Notice[], wording: Wording): string {
  return notices
    .filter((n) => n.code !== "ration-review" && n.code !== "ration-hold")
    .map((n) => noticeText(n, wording))
    .join(" ");
}
