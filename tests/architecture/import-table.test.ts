import { readdirSync, readFileSync, statSync } from "node:fs";
import { dirname, join, relative, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

/**
 * Who may import whom. The same table stands in DEVELOPERS.md in words; a test
 * below compares the two. Type imports count unless listed under `typesOf`.
 */
interface Room {
  readonly tier: number;
  readonly imports: readonly string[];
  readonly typesOf?: readonly string[];
}

const upTo = (tier: number) => Object.keys(rooms).filter((name) => rooms[name]!.tier <= tier);
const between = (low: number, high: number) =>
  Object.keys(rooms).filter((name) => rooms[name]!.tier >= low && rooms[name]!.tier <= high);

const rooms: Record<string, Room> = {
  core: { tier: 0, imports: [] },
  stats: { tier: 1, imports: ["core"] },
  units: { tier: 1, imports: ["core"] },
  species: { tier: 2, imports: ["core", "units"] },
  records: { tier: 2, imports: ["core", "units", "species"] },
  series: { tier: 3, imports: ["core", "units", "stats", "species", "records"] },
  rates: { tier: 4, imports: ["core", "units", "stats", "species", "series"] },
  growth: { tier: 5, imports: ["core", "units", "stats", "series"] },
  reference: {
    tier: 6,
    imports: ["core", "units", "stats", "species", "series", "rates", "growth"],
  },
  flags: { tier: 7, imports: [] },
  seasons: { tier: 8, imports: [] },
  planning: { tier: 8, imports: [] },
  analysis: { tier: 9, imports: [] },
  charts: { tier: 10, imports: ["core", "units"] },
  report: { tier: 11, imports: ["core", "units", "charts"] },
  notebook: { tier: 12, imports: ["core", "units", "charts", "report"] },
  "command-line": { tier: 13, imports: [] },
};
const filled: Record<string, Room> = {
  ...rooms,
  flags: { tier: 7, imports: upTo(6) },
  seasons: { tier: 8, imports: upTo(7) },
  planning: { tier: 8, imports: upTo(6) },
  analysis: { tier: 9, imports: upTo(8) },
  charts: { ...rooms["charts"]!, typesOf: between(3, 9) },
  report: { ...rooms["report"]!, typesOf: between(2, 9) },
  notebook: { ...rooms["notebook"]!, typesOf: between(2, 9) },
  "command-line": { tier: 13, imports: upTo(12) },
};

/** Whole words that belong to animals and must not appear in `stats`. */
const animalWords = [
  "animal",
  "animals",
  "pup",
  "pups",
  "seal",
  "seals",
  "otter",
  "otters",
  "chick",
  "chicks",
  "feed",
  "feeds",
  "milk",
  "formula",
  "weaning",
  "weight-for-age",
  "nursery",
  "keeper",
  "vet",
  "species",
  "cohort",
  "weighing",
  "weighings",
  "husbandry",
  "intake",
];

const src = fileURLToPath(new URL("../../src", import.meta.url));

function filesUnder(folder: string): string[] {
  return readdirSync(folder).flatMap((name) => {
    const path = join(folder, name);
    return statSync(path).isDirectory() ? filesUnder(path) : /\.ts$/.test(name) ? [path] : [];
  });
}

interface Import {
  readonly from: string;
  readonly to: string;
  readonly typeOnly: boolean;
}

/** Reads the relative imports and re-exports of a file, static and dynamic. */
function importsOf(path: string): Import[] {
  const text = readFileSync(path, "utf8").replace(/\/\*[\s\S]*?\*\//g, "");
  const found: Import[] = [];
  const statement =
    /(?:^|\n)\s*(import|export)\s+(type\s+)?([^"';]*?)\s*from\s*["'](\.[^"']+)["']/g;
  for (const m of text.matchAll(statement)) {
    const named = m[3]!.match(/^\{([\s\S]*)\}$/)?.[1];
    const everyNameIsType =
      named?.split(",").every((part) => part.trim() === "" || /^type\s/.test(part.trim())) ?? false;
    found.push({
      from: path,
      to: resolve(dirname(path), m[4]!),
      typeOnly: Boolean(m[2]) || everyNameIsType,
    });
  }
  for (const m of text.matchAll(/(?:import\(\s*|import\s+)["'](\.[^"']+)["']/g)) {
    found.push({ from: path, to: resolve(dirname(path), m[1]!), typeOnly: false });
  }
  return found.map((i) => ({ ...i, to: i.to.replace(/\.js$/, ".ts") }));
}

/** A static, dynamic or required import; shipping the browser build as text is none. */
const importsVega = (text: string) =>
  /(?:from|import|import\(|require\w*\)?\(|\)\()\s*["']vega(?:-lite)?["']/.test(text);

const roomOf = (path: string) => relative(src, path).split(/[\\/]/)[0]!;
const files = filesUnder(src);
const imports = files.flatMap(importsOf);

describe("the import table", () => {
  it("reads imports at all", () => {
    expect(imports.length).toBeGreaterThan(10);
  });

  it("lets every room import only what the table allows", () => {
    const wrong = imports
      .filter((i) => roomOf(i.from) !== "index.ts" && roomOf(i.from) !== roomOf(i.to))
      .filter((i) => {
        const room = filled[roomOf(i.from)];
        if (room === undefined) return true;
        if (room.imports.includes(roomOf(i.to))) return false;
        return !(i.typeOnly && (room.typesOf ?? []).includes(roomOf(i.to)));
      })
      .map((i) => `${relative(src, i.from)} -> ${relative(src, i.to)}`);
    expect(wrong).toEqual([]);
  });

  it("knows every room that exists", () => {
    const folders = readdirSync(src).filter((name) => statSync(join(src, name)).isDirectory());
    expect(folders.filter((name) => filled[name] === undefined)).toEqual([]);
  });

  it("has no circle of value imports between files", () => {
    const edges = new Map<string, string[]>();
    for (const i of imports.filter((each) => !each.typeOnly)) {
      edges.set(i.from, [...(edges.get(i.from) ?? []), i.to]);
    }
    const state = new Map<string, "open" | "done">();
    const circles: string[] = [];
    const visit = (path: string, trail: readonly string[]) => {
      if (state.get(path) === "done") return;
      if (state.get(path) === "open") {
        circles.push(
          [...trail.slice(trail.indexOf(path)), path].map((p) => relative(src, p)).join(" -> "),
        );
        return;
      }
      state.set(path, "open");
      for (const next of edges.get(path) ?? []) visit(next, [...trail, path]);
      state.set(path, "done");
    };
    for (const path of files) visit(path, []);
    expect(circles).toEqual([]);
  });

  it("keeps animal words out of stats", () => {
    const words = new RegExp(`(?<![\\w-])(${animalWords.join("|")})(?![\\w-])`, "gi");
    const found = files
      .filter((path) => roomOf(path) === "stats")
      .flatMap((path) =>
        [...readFileSync(path, "utf8").matchAll(words)].map(
          (m) => `${relative(src, path)}: ${m[0]}`,
        ),
      );
    expect(found).toEqual([]);
  });

  it("lets only the named files touch disk, vega and data frames", () => {
    const outside = files.flatMap((path) => {
      const text = readFileSync(path, "utf8");
      const name = relative(src, path).replaceAll("\\", "/");
      const faults: string[] = [];
      if (
        /["'](node:)?fs(\/promises)?["']/.test(text) &&
        !/^(records\/files|command-line)\//.test(name)
      )
        faults.push(`${name} touches disk`);
      if (importsVega(text) && !/^charts\/render-svg/.test(name))
        faults.push(`${name} imports vega`);
      return faults;
    });
    expect(outside).toEqual([]);
    // The rule would pass unseen if it no longer recognised an import at all.
    expect(files.some((path) => importsVega(readFileSync(path, "utf8")))).toBe(true);
  });

  it("is the table that DEVELOPERS.md tells", () => {
    const prose = readFileSync(
      fileURLToPath(new URL("../../DEVELOPERS.md", import.meta.url)),
      "utf8",
    );
    const rows = [...prose.matchAll(/^\| (\d+) \| `([a-z-]+)` \|/gm)].map((m) => [
      m[2],
      Number(m[1]),
    ]);
    expect(Object.fromEntries(rows)).toEqual(
      Object.fromEntries(Object.entries(filled).map(([name, room]) => [name, room.tier])),
    );
  });
});
