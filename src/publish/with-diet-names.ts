import { escapeHtml } from "../report/renderers/page/escape.js";
import { dietNamer, type NamedDiet } from "../report/section/diet-names.js";

/**
 * A page on which diets stand under their names (`dietNamer`). What stands between
 * quotation marks repeats a file and is left alone, as are tags and scripts.
 *
 * @example withDietNames("<p>formula-1, 46 g</p>", [{ dietId: "formula-1", name: "first formula", ... }]) // "<p>first formula, 46 g</p>"
 */
export function withDietNames(html: string, diets: readonly NamedDiet[]): string {
  const named = dietNamer(
    diets.map(({ dietId, name }) => ({
      dietId: /^[\p{L} ]+$/u.test(dietId) ? dietId : escapeHtml(dietId),
      name: name === null ? null : escapeHtml(name),
    })),
  );
  if (named === null) return html;
  const skipped = /<(script|style)\b[\s\S]*?<\/\1>|<[^>]*>|“[^”]*”|&#34;.*?&#34;/g;
  let out = "";
  let at = 0;
  for (const part of html.matchAll(skipped)) {
    out += named(html.slice(at, part.index)) + part[0];
    at = part.index + part[0].length;
  }
  return out + named(html.slice(at));
}
