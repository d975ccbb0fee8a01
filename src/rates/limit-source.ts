/**
 * Where limits are from: as they stand by default they are common practice; another
 * value was set for this study, by its veterinarian.
 *
 * @example limitSource({ lossPct: 6 }, { lossPct: 5 }, ["lossPct"]) // "set in study.json"
 */
export function limitSource<L extends object>(
  inForce: L,
  usual: L,
  names: readonly (keyof L)[],
): string {
  const same = (name: keyof L) => JSON.stringify(inForce[name]) === JSON.stringify(usual[name]);
  return names.every(same) ? "common practice" : "set in study.json";
}
