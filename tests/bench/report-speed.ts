import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { cpus, tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { seededRandom } from "../../src/core/random.js";

/**
 * How long a whole report takes from a cold start: the demo study (aim: under
 * 20 s on two cores), and studies of more and more animals, whose time must grow
 * in step with them. Seed 20241125.
 */
const root = resolve(fileURLToPath(new URL("../..", import.meta.url)));
const main = join(root, "dist", "command-line", "main.js");
const work = mkdtempSync(join(tmpdir(), "gramline-bench-report-"));

function reportSeconds(folder: string, out: string): number {
  const started = process.hrtime.bigint();
  const run = spawnSync(
    process.execPath,
    [main, "report", folder, "--date", "2026-01-01", "--out", join(work, out)],
    { encoding: "utf8" },
  );
  if (run.status !== 0) throw new Error(run.stderr);
  return Number(process.hrtime.bigint() - started) / 1e9;
}

/** Weighings every second day for 60 days; exponential growth with noise. */
function makeStudy(animals: number): string {
  const random = seededRandom(20241125);
  const folder = join(work, `study-${animals}`);
  mkdirSync(folder, { recursive: true });
  const settings = {
    title: `${animals} animals`,
    species: ["sea otter"],
    zone: "UTC",
    feeding_day_start_hour: 6,
    blank_tare_is_zero: true,
    date_style: "year-month-day",
    decimal: "point",
  };
  const rows = [
    "animal_id,species,sex,birth_date_earliest,birth_date_latest,birth_date_basis,admitted_at,season,outcome",
  ];
  const weighings = ["animal_id,at,mass_g,method,coat,meal"];
  for (let i = 0; i < animals; i++) {
    const year = 2000 + (i % 20);
    rows.push(
      `A${i},sea otter,female,${year}-05-01,${year}-05-01,observed,${year}-05-03 10:00,${year},released`,
    );
    for (let day = 3; day < 63; day += 2) {
      const at = new Date(Date.UTC(year, 4, 1 + day, 9))
        .toISOString()
        .slice(0, 16)
        .replace("T", " ");
      const mass = 1800 * Math.exp(0.011 * day) * (1 + 0.01 * random.normal());
      weighings.push(`A${i},${at},${mass.toFixed(0)},platform,dry,before`);
    }
  }
  writeFileSync(join(folder, "study.json"), JSON.stringify(settings));
  writeFileSync(join(folder, "animals.csv"), `${rows.join("\n")}\n`);
  writeFileSync(join(folder, "weighings.csv"), `${weighings.join("\n")}\n`);
  return folder;
}

try {
  console.log(
    `${cpus().length} cores, ${cpus()[0]?.model ?? "?"}, Node ${process.version}, seed 20241125`,
  );
  console.log(
    `demo study: ${reportSeconds(join(root, "data-demo"), "demo").toFixed(1)} s (aim 20 s)`,
  );
  for (const animals of [60, 125, 250, 500]) {
    const seconds = reportSeconds(makeStudy(animals), `out-${animals}`);
    console.log(
      `${String(animals).padStart(4)} animals: ${seconds.toFixed(1).padStart(6)} s, ${((1000 * seconds) / animals).toFixed(0)} ms an animal`,
    );
  }
} finally {
  rmSync(work, { recursive: true, force: true });
}
