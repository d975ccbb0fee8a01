import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { loadavg, tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { seededRandom } from "../../src/core/random.js";
import { record } from "./curves-record.js";

/**
 * What reading and `analyse` cost over animals, days and rows: invented nurseries of 25 sea
 * otters a season, weighed daily and fed six times a day, in a process of their own each.
 * Each leaves at the end of its season; in the last row none ever does, so that every
 * later season has all the earlier ones in care beside it, by day of care the dearest.
 * Processor seconds and memory at the peak, beyond those of a process that has only loaded
 * the program, and both over the rows. Every size is seeded by itself: 808 plus its animals
 * and days.
 *
 *     npm run bench many-animals
 */
const sizes = [
  { animals: 100, days: 20, leave: true },
  { animals: 200, days: 20, leave: true },
  { animals: 400, days: 20, leave: true },
  { animals: 2000, days: 20, leave: true },
  { animals: 100, days: 40, leave: true },
  { animals: 200, days: 20, leave: false },
] as const;
const feedsADay = 6;
const perSeason = 25;
const root = fileURLToPath(new URL("../..", import.meta.url));

const day = (year: number, d: number) =>
  new Date(Date.UTC(year, 2, 1) + d * 86_400_000).toISOString().slice(0, 10);

/** Writes a study and answers its rows. */
function write(folder: string, animals: number, days: number, leave: boolean): number {
  const random = seededRandom(808 + animals + days);
  const uniform = () => random.uniform();
  mkdirSync(folder, { recursive: true });
  const put = (name: string, lines: readonly string[]) =>
    writeFileSync(join(folder, name), `${lines.join("\n")}\n`);
  put("study.json", [
    JSON.stringify({
      title: "Many animals",
      species: "sea otter",
      zone: "America/St_Johns",
      blank_tare_is_zero: true,
    }),
  ]);
  put("diets.csv", [
    "diet_id,name,kind,energy_kcal_per_g,density_g_per_ml",
    "mash,mash,formula,1.06,1.03",
  ]);
  const own = [
    "animal_id,name,species,sex,birth_date_earliest,birth_date_latest,admitted_at,season,outcome,outcome_date",
  ];
  const weighings = ["animal_id,at,mass_g,scale_id,method,meal"];
  const feeds = ["animal_id,at,diet_id,offered_g,refused_g,route"];
  for (let i = 0; i < animals; i++) {
    const year = (animals > 1000 ? 1900 : 1940) + Math.floor(i / perSeason);
    const id = `N${year}-${String(1 + (i % perSeason)).padStart(2, "0")}`;
    const end = leave ? `released,${day(year, days)}` : ",";
    own.push(`${id},,sea otter,,${year}-02-10,${year}-02-20,${year}-02-28 12:00,${year},${end}`);
    const gain = 40 + 20 * uniform();
    for (let d = 0; d < days; d++) {
      const grams = Math.round(2200 + gain * d + 40 * (uniform() - 0.5));
      weighings.push(
        `${id},${day(year, d)} 07:${String(10 + (i % 50))},${grams},bench-1,platform,before`,
      );
      for (let f = 0; f < feedsADay; f++)
        feeds.push(
          `${id},${day(year, d)} ${String(8 + 2 * f).padStart(2, "0")}:${String(10 + (i % 50))},mash,${Math.round(90 + d + 20 * uniform())},0,bottle`,
        );
    }
  }
  put("animals.csv", own);
  put("weighings.csv", weighings);
  put("feeds.csv", feeds);
  return own.length + weighings.length + feeds.length - 3;
}

const script = `
const { analyse } = await import(process.argv[1] + "/dist/analysis/index.js");
const { readStudy } = await import(process.argv[1] + "/dist/records/files/read-study.js");
const base = process.resourceUsage().maxRSS;
const seconds = ({ user, system }) => (user + system) / 1e6;
const begun = process.cpuUsage();
const study = await readStudy(process.argv[2]);
const read = process.cpuUsage(begun);
const { value } = await analyse(study);
const all = process.cpuUsage(begun);
console.log(JSON.stringify({
  analysed: value.animals.length, courses: value.flags.value.courses.length, setAside: study.setAside.length, readS: seconds(read),
  analyseS: seconds(all) - seconds(read), peakMB: (process.resourceUsage().maxRSS - base) / 1024,
}));`;

const round = (x: number) => Math.round(1000 * x) / 1000;
const folder = mkdtempSync(join(tmpdir(), "gramline-many-animals-"));
try {
  const rows = sizes.map(({ animals, days, leave }) => {
    const study = join(folder, `${animals}-${days}`);
    const rows = write(study, animals, days, leave);
    const seasons = Math.ceil(animals / perSeason);
    // Without an end each stays to the last day of the newest season.
    const animalDays = leave
      ? animals * days
      : perSeason * seasons * (days + 182.5 * (seasons - 1));
    const args = [
      "--input-type=module",
      "-e",
      script,
      pathToFileURL(root).href.replace(/\/$/, ""),
      study,
    ];
    const { stdout, stderr, status } = spawnSync(process.execPath, args, { encoding: "utf8" });
    if (status !== 0) throw new Error(stderr);
    rmSync(study, { recursive: true });
    const found = JSON.parse(stdout) as Readonly<Record<string, number>>;
    if (found["analysed"] !== animals)
      throw new Error(`${found["analysed"]} of ${animals} animals`);
    const row = {
      animals,
      days,
      leave,
      animalDays: Math.round(animalDays),
      rows,
      setAside: found["setAside"]!,
      readS: round(found["readS"]!),
      analyseS: round(found["analyseS"]!),
      peakMB: Math.round(found["peakMB"]!),
      analyseMicrosecondsARow: round((1e6 * found["analyseS"]!) / rows),
      peakBytesARow: Math.round((2 ** 20 * found["peakMB"]!) / rows),
    };
    console.log(JSON.stringify(row));
    return row;
  });
  const load = loadavg().map((l) => Math.round(100 * l) / 100);
  record("many-animals", { seed: "808 + animals + days", feedsADay, perSeason, load }, rows);
} finally {
  rmSync(folder, { recursive: true, force: true });
}
