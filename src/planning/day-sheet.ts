import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import type { CivilDate } from "../series/animal-series.js";
import type { Ration } from "./ration.js";

export interface DaySheetRow {
  readonly time: string;
  readonly dietId: string;
  readonly g: number;
  readonly ml: number | null;
  /** Blank for the hand: refused grams and initials. */
  readonly refusedG: null;
  readonly by: null;
}

export interface DaySheetAnimal {
  readonly animalId: string;
  readonly name: string | null;
  readonly species: string;
  readonly status: Ration["status"];
  /** In place of the feeds while the animal is on hold or nothing was computed. */
  readonly instead: readonly Notice[];
  readonly massG: number | null;
  readonly rows: readonly DaySheetRow[];
  readonly totalG: number | null;
  readonly totalKcal: number | null;
  readonly notes: readonly Notice[];
}

/** What the kitchen has to have ready, over all animals that are not on hold. */
export interface DaySheetDiet {
  readonly dietId: string;
  readonly g: number;
  readonly feeds: number;
}

export interface DaySheet {
  readonly feedingDay: CivilDate;
  /** Stands on the sheet itself. */
  readonly cautions: readonly Notice[];
  readonly animals: readonly DaySheetAnimal[];
  readonly kitchen: readonly DaySheetDiet[];
}

/**
 * One printable sheet for a feeding day, as plain data: each animal's feeds with
 * room for what was refused, or "hold: ask the veterinarian" and no grams; what
 * the kitchen needs; and the caution that it is to be reviewed with the
 * attending veterinarian before use.
 *
 * @example daySheet(rations, "2025-05-02").value.animals[0]?.rows.length // 12
 */
export function daySheet(
  rations: readonly Ration[],
  feedingDay: CivilDate,
): Result<"day-sheet", DaySheet> {
  const own = rations.filter((r) => r.feedingDay === feedingDay);
  const cautionCodes = new Set(["ration-review"]);
  const animals = own.map((r): DaySheetAnimal => {
    const given = r.status === "ration";
    const notes = r.notices.filter((n) => !cautionCodes.has(n.code));
    return {
      animalId: r.animalId,
      name: r.name,
      species: r.species,
      status: r.status,
      instead: given ? [] : notes,
      massG: r.massG.value,
      rows: given
        ? r.feeds.map((f) => ({
            time: f.time,
            dietId: f.dietId,
            g: f.g,
            ml: f.ml,
            refusedG: null,
            by: null,
          }))
        : [],
      totalG: given ? r.totalG : null,
      totalKcal: given ? r.kcal.value : null,
      notes: given ? notes : [],
    };
  });
  const kitchen = new Map<string, { g: number; feeds: number }>();
  for (const row of animals.flatMap((a) => a.rows)) {
    const entry = kitchen.get(row.dietId) ?? { g: 0, feeds: 0 };
    kitchen.set(row.dietId, { g: entry.g + row.g, feeds: entry.feeds + 1 });
  }
  const cautions = [
    notice("ration-review", "caution", {}),
    notice("ration-no-drugs", "caution", {}),
  ];
  return {
    kind: "day-sheet",
    schema: 1,
    value: {
      feedingDay,
      cautions,
      animals,
      kitchen: [...kitchen].map(([dietId, k]) => ({ dietId, ...k })),
    },
    method: { name: "Day sheet", options: { feedingDay }, citations: [] },
    basis: {
      used: own.length,
      leftOut:
        own.length === rations.length
          ? []
          : [{ reason: "rations of another day", count: rations.length - own.length }],
      of: "rations",
    },
    diagnostics: {},
    notices: cautions,
  };
}
