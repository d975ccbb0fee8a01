import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { cpus, tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { loadEngine, quoted } from "../../src/archive/load-engine.js";
import { openArchive } from "../../src/archive/open-archive.js";
import { dailyIntakeSql } from "../../src/archive/sums/daily-intake.js";
import { seededRandom } from "../../src/core/random.js";
import { addToArchive } from "../../src/publish/add-to-archive.js";
import { checkArchive } from "../../src/publish/check-archive.js";

/**
 * `npm run bench archive [FACILITIES SEASONS FEEDS [SAVE]]`: invented studies of so many
 * feeds each are added to an archive, checked, and the daily intake of every animal is
 * asked for; beside it plain DuckDB adds up the same CSV files. Each in a process of its
 * own, so that its greatest memory is its own. By default 20 facilities, 20 seasons and
 * 50,000 feeds: 20,000,000 rows.
 */
const seed = 20261201;
const animals = 20;
const feedsADay = 10;
/** Most memory that the engine takes, MB: the same for both ways. */
const memoryMb = 512;

interface Took {
  readonly seconds: number;
  readonly cpuSeconds: number;
  readonly peakMb: number;
  readonly said: Readonly<Record<string, number>>;
}

const nameOf = (what: string, i: number) => `${what}-${String(i + 1).padStart(2, "0")}`;
const studyOf = (work: string, f: number, s: number) =>
  join(work, "studies", nameOf("house", f), `${2001 + s}`);
const stamp = (ms: number) => new Date(ms).toISOString().slice(0, 16).replace("T", " ");

const self = fileURLToPath(import.meta.url);
const [first = "20", ...rest] = process.argv.slice(2);
const phases: Readonly<
  Record<string, (work: string, sizes: readonly number[]) => Promise<Took["said"]>>
> = {
  make: makeStudies,
  add: addAll,
  check: async (work) => {
    const { rows, faults } = await checkArchive(join(work, "archive"));
    return { rows, faults: faults.length };
  },
  "daily intake": dailyIntake,
  "plain DuckDB on CSV": plainOnCsv,
};

async function main(): Promise<void> {
  const [seasons = "20", feeds = "50000", save] = rest;
  const sizes = [first, seasons, feeds];
  const work = mkdtempSync(join(tmpdir(), "gramline-bench-archive-"));
  try {
    const results: Record<string, Took> = {};
    for (const phase of Object.keys(phases)) {
      const text = execFileSync(
        process.execPath,
        [...process.execArgv, self, phase, work, ...sizes],
        {
          encoding: "utf8",
          maxBuffer: 1e8,
        },
      );
      results[phase] = JSON.parse(text.trim().split("\n").at(-1)!) as Took;
      const { seconds, cpuSeconds, peakMb } = results[phase];
      console.log(
        `${phase}: ${seconds.toFixed(1)} s, ${cpuSeconds.toFixed(1)} s of processor, ${peakMb.toFixed(0)} MB at most`,
      );
    }
    const [ours, plain] = [results["daily intake"]!, results["plain DuckDB on CSV"]!];
    const off = Math.abs(ours.said["eatenG"]! - plain.said["eatenG"]!) / plain.said["eatenG"]!;
    if (!(off < 1e-9 && ours.said["days"] === plain.said["days"]))
      throw new Error(`the two ways differ: ${JSON.stringify([ours.said, plain.said])}`);
    const rows = Number(first) * Number(seasons) * Number(feeds);
    const summary = {
      date: new Date().toISOString().slice(0, 10),
      machine: `${cpus().length} cores, Node ${process.version}`,
      seed,
      facilities: Number(first),
      seasons: Number(seasons),
      feedRows: rows,
      addMicrosecondsOfProcessorARow: (1e6 * results["add"]!.cpuSeconds) / rows,
      intakeOverPlainCsv: ours.cpuSeconds / plain.cpuSeconds,
      results,
    };
    console.log(JSON.stringify(summary, null, 1));
    if (save !== undefined) writeFileSync(save, `${JSON.stringify(summary, null, 1)}\n`);
  } finally {
    rmSync(work, { recursive: true, force: true });
  }
}

/** One season of one house: young that grow, fed ten times a day; one feed in 40 without its refusal. */
async function makeStudies(work: string, [facilities, seasons, feeds]: readonly number[]) {
  const random = seededRandom(seed);
  for (let f = 0; f < facilities!; f++)
    for (let s = 0; s < seasons!; s++) {
      const folder = studyOf(work, f, s);
      mkdirSync(folder, { recursive: true });
      const tables = seasonTables(s, feeds!, random);
      for (const [name, text] of Object.entries(tables)) writeFileSync(join(folder, name), text);
    }
  return {};
}

function seasonTables(s: number, feeds: number, random: ReturnType<typeof seededRandom>) {
  const start = Date.UTC(2001 + s, 0, 10);
  const born = stamp(start - 5 * 86_400_000).slice(0, 10);
  const each = Math.round(feeds / animals);
  const ids = Array.from({ length: animals }, (_, a) => `${nameOf("A", a)}-${s + 1}`);
  const weighings: string[] = ["animal_id,at,mass_g,tare_g,coat,meal"];
  const fed: string[] = ["animal_id,at,diet_id,offered_g,refused_g,route"];
  for (const id of ids) {
    const [mass, gain] = [1700 + 200 * random.uniform(), 20 + 10 * random.uniform()];
    for (let i = 0; i < each; i++) {
      const at = start + Math.floor(i / feedsADay) * 86_400_000 + (i % feedsADay) * 2.4 * 3_600_000;
      if (i % feedsADay === 0)
        weighings.push(
          `${id},${stamp(at + 300_000)},${Math.round(mass + (gain * i) / feedsADay + 10 * random.normal())},0,dry,before`,
        );
      const offered = Math.round(55 + i / 100 + 4 * random.uniform());
      fed.push(
        `${id},${stamp(at)},formula-1,${offered},${random.uniform() < 0.025 ? "" : Math.round(5 * random.uniform())},bottle`,
      );
    }
  }
  return {
    "study.json": JSON.stringify({
      title: "Season",
      zone: "UTC",
      feeding_day_start_hour: 0,
      species: ["sea otter"],
    }),
    "animals.csv": [
      "animal_id,species,sex,birth_date_earliest,birth_date_latest,birth_date_basis,admitted_at,season",
      ...ids.map(
        (id) => `${id},sea otter,female,${born},${born},observed,${stamp(start)},${2001 + s}`,
      ),
    ].join("\n"),
    "diets.csv":
      "diet_id,name,kind,water_pct,protein_pct,fat_pct,carbohydrate_pct,fibre_pct,ash_pct,energy_kcal_per_g\nformula-1,first formula,formula,81.4,7.2,6.9,3.7,0,0.8,1.06",
    "weighings.csv": weighings.join("\n"),
    "feeds.csv": fed.join("\n"),
  };
}

async function addAll(work: string, [facilities, seasons]: readonly number[]) {
  let rows = 0;
  for (let f = 0; f < facilities!; f++)
    for (let s = 0; s < seasons!; s++) {
      const added = await addToArchive(studyOf(work, f, s), {
        to: join(work, "archive"),
        facility: nameOf("house", f),
      });
      rows += added.rows;
    }
  return { rows };
}

async function dailyIntake(work: string) {
  const archive = await openArchive(join(work, "archive"), {
    memoryMb,
    scratch: join(work, "scratch"),
  });
  const said = { days: 0, eatenG: 0 };
  await archive.each(dailyIntakeSql(), (rows) => {
    for (const row of rows) {
      said.days++;
      said.eatenG += Number(row["eaten_g_low"]);
    }
  });
  archive.close();
  return said;
}

/** What one would type without an archive: the sum of what was surely eaten, by animal and day. */
async function plainOnCsv(work: string) {
  const engine = await loadEngine({ memoryMb, scratch: join(work, "scratch") });
  const said = { days: 0, eatenG: 0 };
  const files = quoted(join(work, "studies", "*", "*", "feeds.csv"));
  const sql = `SELECT filename, animal_id, CAST(at AS DATE) AS day, count(*) AS feeds,
      sum(coalesce(offered_g - refused_g, 0)) AS eaten
    FROM read_csv(${files}, header = true, filename = true, columns = {'animal_id': 'VARCHAR', 'at': 'TIMESTAMP',
      'diet_id': 'VARCHAR', 'offered_g': 'DOUBLE', 'refused_g': 'DOUBLE', 'route': 'VARCHAR'})
    GROUP BY ALL`.replaceAll("CAST(at ", 'CAST("at" ');
  await engine.each(sql, (rows) => {
    for (const row of rows) {
      said.days++;
      said.eatenG += Number(row["eaten"]);
    }
  });
  engine.close();
  return said;
}

if (phases[first] === undefined) await main();
else {
  const [work, ...sizes] = rest;
  const [started, cpu] = [performance.now(), process.cpuUsage()];
  const said = await phases[first](work!, sizes.map(Number));
  const { user, system } = process.cpuUsage(cpu);
  const took: Took = {
    seconds: (performance.now() - started) / 1000,
    cpuSeconds: (user + system) / 1e6,
    peakMb: process.resourceUsage().maxRSS / 1024,
    said,
  };
  console.log(JSON.stringify(took));
}
