import type { DietRow } from "../records/study.js";
import { escapeHtml } from "../report/renderers/page/escape.js";

/**
 * A page on which diets stand under their names. An id that is a word ("clam")
 * reads by itself and stays as people wrote it; one that is a code
 * ("formula-1") gives way to the name in the table of diets. What stands between
 * quotation marks repeats a file and is left alone, as are tags and scripts.
 *
 * @example withDietNames("<p>formula-1, 46 g</p>", [{ dietId: "formula-1", name: "first formula", ... }]) // "<p>first formula, 46 g</p>"
 */
export function withDietNames(
  html: string,
  diets: readonly Pick<DietRow, "dietId" | "name">[],
): string {
  const names = new Map(
    diets.flatMap(({ dietId, name }) =>
      name === null || /^[\p{L} ]+$/u.test(dietId) ? [] : [[escapeHtml(dietId), escapeHtml(name)]],
    ),
  );
  if (names.size === 0) return html;
  // The longest first: an id may begin like another.
  const ids = [...names.keys()].sort((a, b) => b.length - a.length).map(literally);
  const diet = new RegExp(`(?<![\\p{L}\\p{N}_-])(?:${ids.join("|")})(?![\\p{L}\\p{N}_-])`, "gu");
  const skipped = /<(script|style)\b[\s\S]*?<\/\1>|<[^>]*>|“[^”]*”|&#34;.*?&#34;/g;
  let out = "";
  let at = 0;
  for (const part of html.matchAll(skipped)) {
    out += html.slice(at, part.index).replace(diet, (id) => names.get(id) ?? id) + part[0];
    at = part.index + part[0].length;
  }
  return out + html.slice(at).replace(diet, (id) => names.get(id) ?? id);
}

const literally = (text: string) => text.replace(/[\\^$.*+?()[\]{}|]/g, "\\$&");
