import { seededRandom } from "../../src/core/random.js";
import { namesByScript } from "./odd-names.js";
import {
  changeAll,
  changeTable,
  demoStudyText,
  onlyAnimals,
  type StudyText,
  shiftDays,
  withoutTables,
} from "./study-text.js";

/** Tables that a nursery may not keep. */
const dispensable = [
  ["feeds", "batches", "ingredients", "plans"],
  ["observations", "events"],
  ["plans"],
  ["housing"],
  ["scale_checks"],
  ["batches", "ingredients"],
  ["diets"],
];

/** Columns that a nursery may leave blank. */
const often = ["tare_g", "scale_id", "coat", "meal", "method", "refused_g", "batch_id", "notes"];
const seldom = ["birth_date_earliest", "birth_date_latest", "birth_date_basis", "season", "sex"];

const outcomes = ["in care", "released", "transferred", "died", "euthanised", "long-term care", ""];

/**
 * A small study that is strange in several ways at once, drawn from the tables of the demo:
 * one to six animals, each with records of a few days or of a whole stay, kept now and then,
 * tables and columns that are not kept, outcomes that do not fit, other scripts.
 *
 * @param draw which of them: the same number makes the same study everywhere
 */
export function drawnStudy(draw: number): StudyText {
  const random = seededRandom(2_611_000 + draw);
  const one = <T>(of: readonly T[]): T => of[random.below(of.length)]!;
  const demo = demoStudyText();
  const chosen = random
    .shuffled(demo.tables["animals"]!.rows.map((row) => row["animal_id"]!))
    .slice(0, 1 + random.below(6));
  const admitted = new Map(
    demo.tables["animals"]!.rows.map((row) => [row["animal_id"]!, row["admitted_at"]!]),
  );
  const stay = new Map(chosen.map((id) => [id, one([1, 2, 4, 9, 21, 60, 400])]));
  const kept = new Map(chosen.map((id) => [id, one([0.1, 0.5, 0.9, 1, 1])]));
  const last = (id: string) => shiftDays(admitted.get(id)!, stay.get(id)!).slice(0, 10);

  const drawn = changeAll(onlyAnimals(demo, chosen), (row, table) => {
    const id = row["animal_id"] ?? "";
    if (table === "animals" || id === "") return row;
    const at = row["at"] ?? row["from"] ?? "";
    const served = at === "" || at.slice(0, 10) <= last(id);
    return served && random.uniform() < kept.get(id)! ? row : null;
  });
  const blank = new Set([
    ...often.filter(() => random.uniform() < 0.2),
    ...seldom.filter(() => random.uniform() < 0.1),
  ]);
  const blanked = changeAll(drawn, (row) =>
    Object.fromEntries(Object.entries(row).map(([c, cell]) => [c, blank.has(c) ? "" : cell])),
  );
  const renamed = random.uniform() < 0.3;
  const ended = changeTable(blanked, "animals", (row, at) => {
    const outcome = one(outcomes);
    const left = outcome !== "in care" && outcome !== "";
    return {
      ...row,
      ...(renamed ? { name: namesByScript[at % namesByScript.length]!.name } : {}),
      outcome,
      outcome_reason: outcome === "died" ? one(["", "pneumonia"]) : "",
      outcome_date: left ? last(row["animal_id"]!) : "",
    };
  });
  const without = dispensable.filter(() => random.uniform() < 0.2).flat();
  const used = new Set(ended.tables["feeds"]!.rows.map((row) => row["batch_id"]));
  const few = changeAll(ended, (row, table) =>
    (table === "batches" || table === "ingredients") && !used.has(row["batch_id"]) ? null : row,
  );
  const settings = { ...few.settings, title: `Drawn ${draw} (invented)` };
  return { ...withoutTables(few, without), settings };
}
