import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { cpus, loadavg, tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { seededRandom } from "../../src/core/random.js";

/**
 * How long a whole report takes from a cold start: the demo study (aim: under
 * 20 s on two cores), and studies of more and more animals, whose time must grow
 * in step with them. Beside the clock's seconds stand the processor's, which
 * other work on the machine changes less. Seed 20241125.
 */
const root = resolve(fileURLToPath(new URL("../..", import.meta.url)));
const main = join(root, "dist", "command-line", "main.js");
const work = mkdtempSync(join(tmpdir(), "gramline-bench-report-"));

/** Prints the processor seconds of the run at its end; counts what the clock cannot on a busy machine. */
const meter = `data:text/javascript,${encodeURIComponent(
  'process.on("exit",()=>{const u=process.cpuUsage();process.stderr.write("\\ncpu "+(u.user+u.system)/1e6+"\\n")})',
)}`;

interface Timed {
  readonly seconds: number;
  readonly processorSeconds: number;
}

function reportTime(folder: string, out: string): Timed {
  const started = process.hrtime.bigint();
  const run = spawnSync(
    process.execPath,
    ["--import", meter, main, "report", folder, "--date", "2026-01-01", "--out", join(work, out)],
    { encoding: "utf8" },
  );
  if (run.status !== 0) throw new Error(run.stderr);
  const cpu = Number(/cpu ([\d.]+)/.exec(run.stderr)?.[1]);
  if (!Number.isFinite(cpu)) throw new Error(`no processor time in: ${run.stderr}`);
  rmSync(join(work, out), { recursive: true });
  return {
    seconds: round(Number(process.hrtime.bigint() - started) / 1e9),
    processorSeconds: round(cpu),
  };
}

const round = (x: number) => Math.round(100 * x) / 100;

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

/** Slope of ln time on ln animals: 1 where time grows in step with them. */
function exponent(rows: readonly (Timed & { readonly animals: number })[]): number {
  const x = rows.map((r) => Math.log(r.animals));
  const y = rows.map((r) => Math.log(r.processorSeconds));
  const mean = (values: readonly number[]) => values.reduce((a, v) => a + v, 0) / values.length;
  const [mx, my] = [mean(x), mean(y)];
  const sxy = x.reduce((sum, v, i) => sum + (v - mx) * (y[i]! - my), 0);
  return round(sxy / x.reduce((sum, v) => sum + (v - mx) ** 2, 0));
}

try {
  const demo = reportTime(join(root, "data-demo"), "demo");
  console.log(JSON.stringify({ demo }));
  const rows = [60, 125, 250, 500].map((animals) => {
    const row = { animals, ...reportTime(makeStudy(animals), `out-${animals}`) };
    console.log(JSON.stringify(row));
    return row;
  });
  const result = {
    bench: "report-speed",
    date: new Date().toISOString().slice(0, 10),
    machine: `${cpus()[0]?.model ?? "unknown"}, ${cpus().length} cores, Node ${process.version}`,
    load: round(loadavg()[0] ?? 0),
    seed: 20241125,
    demo,
    rows,
    exponentOfProcessorTime: exponent(rows),
  };
  const file = fileURLToPath(new URL("./results/report-speed.json", import.meta.url));
  writeFileSync(file, `${JSON.stringify(result, null, 2)}\n`);
  console.log(`Written to ${file}`);
} finally {
  rmSync(work, { recursive: true, force: true });
}
