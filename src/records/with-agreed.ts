import { UsageError } from "../core/usage-error.js";
import type { StudyProposal } from "./propose-for-study.js";

/**
 * The text of study.json after agreed proposals were put into it under `files`,
 * `layouts`, `columns` and `also_called`, where a person can read and change them;
 * what stands there already is never changed, only added to. How sure each column
 * was is kept beside them under `mapping_notes`. With it what was added, one line
 * each: "columns: weighings.mass_g = Gewicht (kg)".
 *
 * @throws UsageError where the text is no JSON object.
 */
export function withAgreed(
  text: string,
  proposal: StudyProposal,
): { readonly text: string; readonly added: string[] } {
  const study = JSON.parse(text.replace(/^\ufeff/, "")) as Record<string, unknown>;
  if (typeof study !== "object" || study === null || Array.isArray(study))
    throw new UsageError({
      needed: "a JSON object",
      came: "something else came",
      where: "study.json",
      todo: "Correct it first.",
    });
  const columns = section(study["columns"]);
  const files = section(study["files"]);
  const layouts = section(study["layouts"]);
  const called = section(study["also_called"]);
  const notes = section(study["mapping_notes"]);
  const added: string[] = [];
  /** Adds to a name or a list of names; false where it stands there already. */
  const append = (into: Record<string, unknown>, key: string, name: string): boolean => {
    const there = into[key];
    const list = Array.isArray(there) ? (there as unknown[]) : there === undefined ? [] : [there];
    if (list.includes(name)) return false;
    into[key] = list.length === 0 ? name : [...list, name];
    return true;
  };
  for (const { table, file, named, layout = [], columns: found } of proposal.tables) {
    if (named !== true && append(files, table, file)) added.push(`files: ${file} is ${table}`);
    if (layout.length > 0) {
      const steps = Array.isArray(layouts[file]) ? (layouts[file] as unknown[]) : [];
      const there = new Set(steps.map((step) => JSON.stringify(step)));
      const fresh = layout.map((r) => r.step).filter((step) => !there.has(JSON.stringify(step)));
      layouts[file] = [...steps, ...fresh];
      for (const step of fresh) added.push(`layouts: ${file}: ${JSON.stringify(step)}`);
    }
    const mapped = section(columns[table]);
    for (const { column, header, confidence } of found) {
      if (header === column || !append(mapped, column, header)) continue;
      notes[`${table}.${column}`] =
        `proposed, ${Math.round(100 * confidence)} % sure; look it over`;
      added.push(`columns: ${table}.${column} = ${header}`);
    }
    if (Object.keys(mapped).length > 0) columns[table] = mapped;
  }
  for (const { animal, name } of proposal.names) {
    const there = Array.isArray(called[animal]) ? (called[animal] as unknown[]) : [];
    if (there.includes(name)) continue;
    called[animal] = [...there, name];
    added.push(`also_called: ${name} is ${animal}`);
  }
  const next: Record<string, unknown> = { ...study };
  const sections = { files, layouts, columns, also_called: called, mapping_notes: notes };
  for (const [name, value] of Object.entries(sections))
    if (Object.keys(value).length > 0) next[name] = value;
  return { text: added.length > 0 ? `${JSON.stringify(next, null, 2)}\n` : text, added };
}

/** A copy of an object that may be none, without a prototype to stumble over. */
function section(value: unknown): Record<string, unknown> {
  const copy = Object.create(null) as Record<string, unknown>;
  if (typeof value === "object" && value !== null && !Array.isArray(value))
    Object.assign(copy, value);
  return copy;
}
