import { readdirSync, readFileSync, statSync } from "node:fs";
import { basename, dirname, join, relative, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

/**
 * Who may import whom, sub-rooms included: a file belongs to the longest name
 * that its folder begins with. The same rows stand in DEVELOPERS.md in words; a
 * test below compares the two. Type imports count unless listed under `typesOf`.
 * A name that ends in "/*" stands for a room and every sub-room of it.
 */
interface Room {
  readonly tier: number;
  readonly imports: readonly string[];
  readonly typesOf?: readonly string[];
  /** Kept for work that is planned: the folder may be missing. */
  readonly planned?: true;
}

const upTo = (tier: number) => between(0, tier);
const between = (low: number, high: number) =>
  Object.keys(tiers)
    .filter((name) => tiers[name]! >= low && tiers[name]! <= high)
    .map((name) => `${name}/*`);

/** Rooms at the top, in the order in which data flow. */
const tiers: Readonly<Record<string, number>> = {
  core: 0,
  stats: 1,
  units: 1,
  species: 2,
  records: 2,
  cache: 3,
  series: 3,
  rates: 4,
  growth: 5,
  reference: 6,
  flags: 7,
  seasons: 8,
  planning: 8,
  answers: 8,
  analysis: 9,
  archive: 9,
  charts: 10,
  report: 11,
  notebook: 12,
  publish: 13,
  "command-line": 14,
};

const stats = (...names: string[]) => ["core", ...names.map((name) => `stats/${name}`)];
/** What pages, files and commands are made with. */
const front = ["core", "units", "records/*", "cache", "analysis", "charts", "report/*", "notebook"];
const below = ["core", "units", "stats/*", "species", "series/*"];

const rooms: Readonly<Record<string, Room>> = {
  core: { tier: 0, imports: [] },
  // What statistics needs of the rest of the project is a handful of files of `core`.
  "stats/linear-algebra": { tier: 1, imports: stats() },
  "stats/special-functions": { tier: 1, imports: stats() },
  "stats/numeric": { tier: 1, imports: stats("linear-algebra") },
  "stats/distributions": { tier: 1, imports: stats("numeric", "special-functions") },
  "stats/descriptive": { tier: 1, imports: stats("numeric", "distributions") },
  "stats/hypothesis-tests": {
    tier: 1,
    imports: stats("numeric", "special-functions", "distributions", "descriptive"),
  },
  "stats/linear-model": {
    tier: 1,
    imports: stats(
      "linear-algebra",
      "numeric",
      "special-functions",
      "distributions",
      "descriptive",
      "hypothesis-tests",
    ),
  },
  "stats/least-squares": { tier: 1, imports: stats("linear-algebra", "descriptive") },
  "stats/smoothing": { tier: 1, imports: stats("linear-algebra", "numeric", "descriptive") },
  "stats/linear-mixed": {
    tier: 1,
    imports: stats(
      "linear-algebra",
      "numeric",
      "distributions",
      "descriptive",
      "linear-model",
      "smoothing",
    ),
  },
  "stats/nonlinear-mixed": {
    tier: 1,
    imports: stats("linear-algebra", "numeric", "distributions", "descriptive", "linear-mixed"),
  },
  "stats/quantile-regression": {
    tier: 1,
    imports: stats("linear-algebra", "distributions", "descriptive"),
  },
  "stats/robust": {
    tier: 1,
    imports: stats("linear-algebra", "numeric", "distributions", "descriptive", "linear-model"),
  },
  "stats/resampling": {
    tier: 1,
    imports: stats("distributions", "descriptive", "hypothesis-tests"),
  },
  "stats/sequential": {
    tier: 1,
    imports: stats("linear-algebra", "numeric", "special-functions", "distributions"),
  },
  "stats/survival": {
    tier: 1,
    imports: stats("linear-algebra", "distributions", "descriptive", "linear-model"),
  },
  "stats/state-space": {
    tier: 1,
    imports: stats(
      "linear-algebra",
      "numeric",
      "special-functions",
      "distributions",
      "descriptive",
    ),
  },
  "stats/lms": { tier: 1, imports: stats("linear-algebra") },
  units: { tier: 1, imports: ["core"] },
  species: { tier: 2, imports: ["core", "units"] },
  records: { tier: 2, imports: ["core", "units", "species", "records/*"] },
  cache: { tier: 3, imports: ["core", "records/*"] },
  series: { tier: 3, imports: ["core", "units", "stats/*", "species", "records/*", "series/*"] },
  "series/orders": { tier: 3, imports: ["core", "units", "species", "records/*", "series"] },
  "series/signs": { tier: 3, imports: ["core", "units", "species", "records/*", "series"] },
  rates: { tier: 4, imports: below },
  growth: { tier: 5, imports: ["core", "units", "stats/*", "series/*"] },
  reference: { tier: 6, imports: [...below, "rates", "growth"] },
  "flags/animal-day": { tier: 7, imports: upTo(6) },
  "flags/watch": { tier: 7, imports: [...upTo(6), "flags/animal-day"] },
  "flags/rules": { tier: 7, imports: [...upTo(6), "flags/animal-day"] },
  "flags/levels": { tier: 7, imports: [...upTo(6), "flags/animal-day", "flags/rules"] },
  "flags/budget": {
    tier: 7,
    imports: [...upTo(6), "flags/animal-day", "flags/watch", "flags/rules"],
  },
  flags: { tier: 7, imports: [...upTo(6), "flags/*"] },
  seasons: { tier: 8, imports: upTo(7) },
  planning: { tier: 8, imports: [...upTo(6), "flags/watch", "flags/levels"] },
  answers: { tier: 8, imports: upTo(7), planned: true },
  analysis: { tier: 9, imports: upTo(8) },
  // Rows stand as `series` and `rates` count them; `analysis` leaves out people and sums up a house.
  archive: { tier: 9, imports: [...upTo(8), "analysis"] },
  charts: { tier: 10, imports: ["core", "units"], typesOf: between(3, 9) },
  "report/section": { tier: 11, imports: ["core", "units", "charts"], typesOf: between(2, 9) },
  "report/renderers": {
    tier: 11,
    imports: ["core", "units", "charts", "report/section"],
    typesOf: between(2, 9),
  },
  "report/records": { tier: 11, imports: reported(), typesOf: between(2, 9) },
  "report/day": { tier: 11, imports: reported("records"), typesOf: between(2, 9) },
  // Bands of a picture are centiles: the definition of `stats` and no second one.
  "report/animal": {
    tier: 11,
    imports: [...reported("records", "day"), "stats/descriptive"],
    typesOf: between(2, 9),
  },
  "report/seasons": { tier: 11, imports: reported("records", "animal"), typesOf: between(2, 9) },
  "report/feeding": { tier: 11, imports: reported("records"), typesOf: between(2, 9) },
  "report/husbandry": {
    tier: 11,
    imports: reported("records", "day", "animal", "seasons", "feeding"),
    typesOf: between(2, 9),
  },
  report: { tier: 11, imports: ["report/*"] },
  notebook: {
    tier: 12,
    imports: ["core", "units", "stats/linear-mixed", "stats/nonlinear-mixed", "charts", "report/*"],
    typesOf: between(2, 9),
  },
  // Neither wires rooms itself: what a page needs comes whole from `analysis`.
  publish: { tier: 13, imports: [...front, "archive"], typesOf: between(2, 9) },
  "command-line": { tier: 14, imports: [...front, "archive", "publish"], typesOf: between(2, 9) },
};

/** What a page is made of, and the pages named. */
function reported(...pages: string[]): string[] {
  return ["core", "units", "charts", "report/section", ...pages.map((page) => `report/${page}`)];
}

/** Whether a list of names, some with "/*", holds a room. */
const holds = (names: readonly string[], room: string) =>
  names.some((name) =>
    name.endsWith("/*")
      ? room === name.slice(0, -2) || room.startsWith(name.slice(0, -1))
      : name === room,
  );

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

/** The room of a file: the longest name in the table that its folder begins with. */
function roomOf(path: string): string {
  const folders = relative(src, dirname(path)).split(/[\\/]/);
  for (let n = folders.length; n > 0; n--) {
    const name = folders.slice(0, n).join("/");
    if (rooms[name] !== undefined) return name;
  }
  return folders[0] ?? "";
}

/** The entry and the indexes of names only re-export; every other file is held to the table. */
const isIndex = (path: string) => basename(path) === "index.ts" || path === join(src, "node.ts");
const files = filesUnder(src);
const imports = files.flatMap(importsOf);

describe("the import table", () => {
  it("reads imports at all", () => {
    expect(imports.length).toBeGreaterThan(10);
  });

  it("lets every room import only what the table allows", () => {
    const wrong = imports
      .filter((i) => !isIndex(i.from) && roomOf(i.from) !== roomOf(i.to))
      .filter((i) => {
        const room = rooms[roomOf(i.from)];
        if (room === undefined) return true;
        if (holds(room.imports, roomOf(i.to))) return false;
        return !(i.typeOnly && holds(room.typesOf ?? [], roomOf(i.to)));
      })
      .map((i) => `${relative(src, i.from)} -> ${relative(src, i.to)}`);
    expect(wrong).toEqual([]);
  });

  it("lets nobody but an index import an index", () => {
    const wrong = imports
      .filter((i) => isIndex(i.to) && !isIndex(i.from))
      .map((i) => `${relative(src, i.from)} -> ${relative(src, i.to)}`);
    expect(wrong).toEqual([]);
  });

  it("knows every room that exists, and every row has its room", () => {
    const folders = readdirSync(src).filter((name) => statSync(join(src, name)).isDirectory());
    expect(folders.filter((name) => tiers[name] === undefined)).toEqual([]);
    const homeless = files.filter((path) => !isIndex(path) && rooms[roomOf(path)] === undefined);
    expect(homeless.map((path) => relative(src, path))).toEqual([]);
    const rows = Object.keys(rooms).filter((name) => rooms[name]!.planned !== true);
    const occupied = new Set(files.map(roomOf));
    expect(rows.filter((name) => !occupied.has(name) && !/^series\//.test(name))).toEqual([]);
  });

  it("gives every sub-room of stats an index of its public names", () => {
    const subRooms = Object.keys(rooms).filter((name) => name.startsWith("stats/"));
    const entry = importsOf(join(src, "stats", "index.ts")).map((i) => relative(src, i.to));
    expect(entry.sort()).toEqual(subRooms.map((name) => join(name, "index.ts")).sort());
  });

  it("lets stats use a handful of core alone, so that it can be taken out", () => {
    const used = imports
      .filter((i) => roomOf(i.from).startsWith("stats") && roomOf(i.to) === "core")
      .map((i) => basename(i.to, ".ts"));
    expect([...new Set(used)].sort()).toEqual([
      "former-name",
      "long-work",
      "measured",
      "notice",
      "random",
      "require-numbers",
      "usage-error",
    ]);
  });

  it("has no circle between rooms that stand side by side", () => {
    const names = Object.keys(rooms);
    const allowed = (from: string, to: string) => from !== to && holds(rooms[from]!.imports, to);
    const circles = names.flatMap((a) =>
      names.filter((b) => a < b && allowed(a, b) && allowed(b, a)).map((b) => `${a} <-> ${b}`),
    );
    // `series` is one room with two rooms inside it that read its rows.
    expect(circles.filter((each) => !each.startsWith("series <-> series/"))).toEqual([]);
  });

  it("has no circle between files, imports of types counted", () => {
    expect(circlesAmong(imports)).toEqual([]);
    // The search would pass unseen if it no longer found a circle at all.
    const back = (from: string, to: string): Import => ({ from, to, typeOnly: true });
    expect(circlesAmong([back("/a.ts", "/b.ts"), back("/b.ts", "/a.ts")])).toHaveLength(1);
  });

  it("keeps animal words out of stats", () => {
    const words = new RegExp(`(?<![\\w-])(${animalWords.join("|")})(?![\\w-])`, "gi");
    const found = files
      .filter((path) => roomOf(path).startsWith("stats"))
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
        !/^(records\/files|cache|publish|command-line)\//.test(name)
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
    const rows = [...prose.matchAll(/^\| (\d+) \| `([a-z/-]+)` \|/gm)].map((m) => [
      m[2],
      Number(m[1]),
    ]);
    expect(Object.fromEntries(rows)).toEqual(
      Object.fromEntries(Object.entries(rooms).map(([name, room]) => [name, room.tier])),
    );
  });
});

/** Circles of imports, each told from one of its files round to it again. */
function circlesAmong(all: readonly Import[]): string[] {
  const edges = new Map<string, string[]>();
  for (const i of all) edges.set(i.from, [...(edges.get(i.from) ?? []), i.to]);
  const state = new Map<string, "open" | "done">();
  const circles: string[] = [];
  const visit = (path: string, trail: readonly string[]) => {
    if (state.get(path) === "done") return;
    if (state.get(path) === "open") {
      const circle = [...trail.slice(trail.indexOf(path)), path];
      circles.push(circle.map((p) => relative(src, p)).join(" -> "));
      return;
    }
    state.set(path, "open");
    for (const next of edges.get(path) ?? []) visit(next, [...trail, path]);
    state.set(path, "done");
  };
  for (const path of edges.keys()) visit(path, []);
  return circles;
}

describe("files on disk", () => {
  it("are written by one writer", () => {
    // A connection file and a trial file live in folders of their own that nobody reads later.
    // A new study is put in its place whole, by one rename of its folder.
    // What the cache keeps may be lost: it is checked when read, and nobody waits for the disk.
    const others = [
      "cache/disk-cache.ts",
      "command-line/kernel-connection.ts",
      "command-line/doctor.ts",
      "command-line/new.ts",
    ];
    const writes =
      /\b(writeFile|writeFileSync|createWriteStream|appendFile|appendFileSync|copyFile|copyFileSync|renameSync|rename)\b/;
    const found = files
      .filter((path) => writes.test(readFileSync(path, "utf8").replace(/\/\*[\s\S]*?\*\//g, "")))
      .map((path) => relative(src, path).replaceAll("\\", "/"));
    expect(found.filter((name) => !others.includes(name))).toEqual([
      "records/files/write-atomically.ts",
    ]);
  });
});

describe("the inventors of scenarios", () => {
  it("share no code with what they try", () => {
    const folder = fileURLToPath(new URL("../bench/causes", import.meta.url));
    const inventors = ["draws.ts", "families.ts", "invented-nursery.ts"];
    for (const file of inventors) {
      const from = [...readFileSync(join(folder, file), "utf8").matchAll(/from "([^"]+)"/g)].map(
        (m) => m[1]!,
      );
      expect(
        from.every((each) => inventors.includes(each.replace(/^\.\//, "").replace(/\.js$/, ".ts"))),
        `${file} imports ${from.join(", ")}`,
      ).toBe(true);
    }
    // All of the folder but the one file that runs the library on what was invented.
    expect(readdirSync(folder).sort()).toEqual([...inventors, "try-nursery.ts"].sort());
  });
});
