import { dayMs } from "../units/day-ms.js";
import { newestAmongOthers } from "./default-day.js";
import type { DraftRow, Drafts } from "./draft-row.js";
import type { Rows } from "./rows.js";
import type { Instant, Question } from "./study.js";

/** How long before its last use a diet or batch still concerns an animal. */
const USED_DAYS = 2;

/**
 * Who was fed a diet or batch within two days of its last use, or is ordered it,
 * and when it was last used. The feeds are gone through once, when first asked.
 */
export function usersOfFood(drafts: Drafts): (food: DraftRow) => Pick<Question, "animals" | "at"> {
  const good = (table: "feeds" | "plans") =>
    (drafts.get(table) ?? []).filter((draft) => draft.fault === null);
  const feedsBy = once((key: string) => rowsBy(good("feeds"), key));
  const plansBy = once((key: string) => rowsBy(good("plans"), key));
  const newest = once((): Instant => {
    const at = Float64Array.from(good("feeds"), (draft) => draft.get("at") as number).sort();
    return newestAmongOthers(at) ?? Number.NEGATIVE_INFINITY;
  });
  return (food) => {
    const key = food.table === "diets" ? "dietId" : "batchId";
    const id = food.get(key);
    const uses = (feedsBy(key).get(id) ?? []).map((feed) => ({
      animal: feed.get("animalId"),
      at: feed.get("at") as number,
    }));
    for (const plan of key === "dietId" ? (plansBy(key).get(id) ?? []) : []) {
      const to = (plan.get("to") as { readonly value: number | null } | null)?.value ?? newest("");
      uses.push({ animal: plan.get("animalId"), at: Math.min(to, newest("")) });
    }
    const last = uses.reduce((at, use) => Math.max(at, use.at), Number.NEGATIVE_INFINITY);
    const animals = uses.flatMap(({ animal, at }) =>
      at > last - USED_DAYS * dayMs && typeof animal === "string" ? [animal] : [],
    );
    return { animals: [...new Set(animals)], at: Number.isFinite(last) ? last : null };
  };
}

function rowsBy(rows: Rows<DraftRow>, key: string): Map<unknown, DraftRow[]> {
  const found = new Map<unknown, DraftRow[]>();
  for (const row of rows) {
    const name = row.get(key);
    const own = found.get(name);
    if (own === undefined) found.set(name, [row]);
    else own.push(row);
  }
  return found;
}

/** The same, worked out once for each argument. */
function once<T>(work: (key: string) => T): (key: string) => T {
  const done = new Map<string, T>();
  return (key) => {
    if (!done.has(key)) done.set(key, work(key));
    return done.get(key)!;
  };
}
