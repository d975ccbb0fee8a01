import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { beforeAll, describe, expect, it } from "vitest";
import * as entry from "../../src/index.js";
import * as node from "../../src/node.js";
import { buildSeries } from "../../src/series/build-series.js";

/**
 * What stands in the docstrings of the two entries: each public function has an example,
 * and each that needs nothing but public functions and the study of `data-demo` (`study`,
 * its histories `series`, one of its animals `otter`) gives what it says. Statistics and
 * growth curves: tests/stats/examples.
 */
const src = fileURLToPath(new URL("../../src", import.meta.url));

interface Documented {
  readonly path: string;
  readonly name: string;
  readonly code: string | null;
  readonly stated: string;
}

/** Every exported function with the text of its example; the last line says the value. */
function documentedIn(path: string): Documented[] {
  const text = readFileSync(join(src, path), "utf8");
  const found = text.matchAll(
    /(\/\*\*(?:(?!\*\/)[\s\S])*\*\/\s*)?export (?:async )?function (\w+)/g,
  );
  return [...found].map(([, doc, name]) => {
    const block = /@example\s([\s\S]*?)(?=\*\/|\n \* @)/.exec(doc ?? "")?.[1];
    const lines = (block ?? "").split("\n").map((line) => line.replace(/^ \*( |$)/, "").trim());
    const said = lines.filter((line) => line !== "").join("\n");
    const cut = said.lastIndexOf(" // ");
    return {
      path,
      name: name!,
      code: block === undefined ? null : cut < 0 ? said : said.slice(0, cut),
      stated: cut < 0 ? "" : said.slice(cut + 4).trim(),
    };
  });
}

const all = readdirSync(src, { recursive: true, encoding: "utf8" })
  .filter((path) => path.endsWith(".ts"))
  .map((path) => path.replaceAll("\\", "/"))
  .flatMap(documentedIn);

const roomsOf = (given: object): [string, object][] =>
  Object.entries(given).filter(
    ([, each]) => (each as { [Symbol.toStringTag]?: string })?.[Symbol.toStringTag] === "Module",
  );
const functionsOf = (given: object) =>
  Object.entries(given).flatMap(([name, each]) => (typeof each === "function" ? [name] : []));

const rooms = [...roomsOf(entry), ...roomsOf(node)];
const published = [entry, node, ...rooms.map(([, room]) => room)].flatMap(functionsOf);

/**
 * Questions asked of the whole study, each of them seconds or minutes: `.ci/run` runs them
 * (`EXAMPLES=whole`), `npm test` does not.
 */
const whole = process.env["EXAMPLES"] === "whole";
const takesLong = /^(analysis|publish|report|notebook|flags|seasons)\/(?!milestone-times)/;

/** A value that is written out whole: a number, a text, a list or a record. */
function literal(stated: string): { readonly value: unknown } | null {
  if (!/^(-?\d|"|\[|\{|true$|false$|null$)/.test(stated) || stated.includes("...")) return null;
  try {
    return { value: new Function(`return (${stated});`)() };
  } catch {
    return null;
  }
}

/** As precise as the digits written; texts, lists and records as they stand. */
function same(got: unknown, stated: string): boolean {
  const { value } = literal(stated)!;
  if (typeof value !== "number" || typeof got !== "number")
    return JSON.stringify(got) === JSON.stringify(value);
  const digits = stated.replace(/^-?0?\.?0*/, "").replace(".", "").length;
  const allowed = Math.abs(value) * Math.max(1e-12, 10 ** (1 - digits));
  return Math.abs(got - value) <= allowed;
}

describe("the docstrings of the entries", () => {
  const scope: Record<string, unknown> = {};
  beforeAll(async () => {
    for (const [, room] of rooms) Object.assign(scope, room);
    for (const each of [entry, node] as Record<string, unknown>[])
      for (const name of functionsOf(each)) scope[name] = each[name];
    scope["study"] = await entry.readStudy(
      fileURLToPath(new URL("../../data-demo", import.meta.url)),
    );
    const series = buildSeries(scope["study"] as Parameters<typeof buildSeries>[0]);
    scope["series"] = series;
    scope["settings"] = series.settings;
    scope["otter"] = series.animals.find(({ animal }) => animal.animalId === "O24-02");
  });

  it("have an example on every public function", () => {
    const known = new Set(all.filter((each) => each.code !== null).map((each) => each.name));
    const documented = new Set(all.map((each) => each.name));
    const lacking = published.filter((name) => documented.has(name) && !known.has(name));
    expect(lacking).toEqual([]);
    expect(published.length).toBeGreaterThan(300);
  });

  it("give the values that their examples state", async () => {
    const names = new Set(published);
    const own = all.filter(
      ({ path, name, code, stated }) =>
        !/^(stats|growth)\//.test(path) && code !== null && names.has(name) && literal(stated),
    );
    const wrong: string[] = [];
    let run = 0;
    for (const { path, name, code, stated } of own) {
      if (needsMore(code!, scope) || (takesLong.test(path) && !whole)) continue;
      // What an example would write lands in no folder of this repository.
      if (/^(archive|publish)\//.test(path)) continue;
      run++;
      let got: unknown;
      try {
        const lines = code!.split("\n");
        const last = lines.map((line) => line.endsWith(";")).lastIndexOf(true) + 1;
        const body = `return (async () => { ${lines.slice(0, last).join("\n")}\nreturn (${lines.slice(last).join("\n")}); })();`;
        got = await new Function(...Object.keys(scope), body)(...Object.values(scope));
      } catch (error) {
        got = error;
      }
      const text = got instanceof Error ? `${got}` : JSON.stringify(got)?.slice(0, 160);
      if (!same(got, stated)) wrong.push(`${path} ${name}: ${stated} gives ${text}`);
    }
    expect(wrong).toEqual([]);
    expect(run).toBeGreaterThan(whole ? 60 : 45);
  }, 600_000);
});

/** Whether the example speaks of things that only its reader has. */
function needsMore(code: string, scope: Readonly<Record<string, unknown>>): boolean {
  const declared = new Set([...code.matchAll(/\b(?:const|let) \{? ?(\w+)/g)].map((m) => m[1]!));
  const bare = code.replace(/"[^"]*"|'[^']*'/g, '""').replace(/\b\w+\s*:(?!:)/g, "");
  const language = /^(await|new|const|let|true|false|null|Date|Math|Number|[a-z]|e\d+)$/;
  return [...bare.matchAll(/(?<![.\w])([A-Za-z_]\w*)(\()?/g)].some(
    ([, word, called]) =>
      !language.test(word!) &&
      !declared.has(word!) &&
      (scope[word!] === undefined || (typeof scope[word!] === "function" && called === undefined)),
  );
}
