import type { StudySettings } from "../series/animal-series.js";

/**
 * Limits with what the veterinarian set in study.json ("watch_limits") in place of the
 * defaults. Names there have underscores (`glucose_danger`); an entry of another form
 * than its default, and a name that is none of these limits, change nothing.
 *
 * @example limitsInForce(defaultSignLimits, { watchLimits: { vomits: 3 } }).vomits // 3
 */
export function limitsInForce<L extends object>(
  defaults: L,
  settings: Pick<StudySettings, "watchLimits">,
): L {
  const written = Object.entries(settings.watchLimits ?? {});
  if (written.length === 0) return defaults;
  const set = Object.entries(defaults).flatMap(([name, usual]: [string, unknown]) => {
    const own = written.find(([each]) => plainName(each) === plainName(name));
    return own !== undefined && hasForm(own[1], usual) ? [[name, own[1]]] : [];
  });
  return { ...defaults, ...Object.fromEntries(set) };
}

/** Whether an entry can stand where a default stands: one number, a pair of them, or null. */
export function hasForm(entry: unknown, usual: unknown): boolean {
  if (entry === null) return true;
  const pair = Array.isArray(entry) && entry.length === 2;
  return Array.isArray(usual) ? pair && entry.every(Number.isFinite) : Number.isFinite(entry);
}

/** "glucose_danger" and "glucoseDanger" are one name. */
export const plainName = (name: string) => name.replace(/_/g, "").toLowerCase();
