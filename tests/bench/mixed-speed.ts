import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { cpus, tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { seededRandom } from "../../src/core/random.js";
import { fitLinearMixed } from "../../src/stats/linear-mixed/fit-linear-mixed.js";
import { fitNonlinearMixed } from "../../src/stats/nonlinear-mixed/fit-nonlinear-mixed.js";
import { makeIndividual } from "../../src/stats/nonlinear-mixed/individual.js";
import type { MeanFunction } from "../../src/stats/nonlinear-mixed/model.js";
import { individualPrior, populationModel } from "../../src/stats/nonlinear-mixed/prior.js";

/**
 * Speed of the mixed models beside R's nlme and lme4, same run and same data:
 * logistic, 100 animals x 30, two random effects; linear, 1,000 x 60, intercept
 * and slope; then 20,000 x 60 alone, for time linear in animals and memory. One
 * core each; reading the file and starting R are not counted; both sides warm.
 */
const reps = Number(process.argv[2] ?? 9);
const here = (name: string) => fileURLToPath(new URL(name, import.meta.url));
const median = (v: number[]) => [...v].sort((a, b) => a - b)[v.length >> 1]!;
const round = (v: number, digits = 3) => Number(v.toPrecision(digits));

const logistic: MeanFunction = (x, p, out, at) => {
  const e = Math.exp((p[1]! - x) / p[2]!);
  const s = 1 / (1 + e);
  const bend = (p[0]! * e * s * s) / p[2]!;
  out[at] = s;
  out[at + 1] = -bend;
  out[at + 2] = (bend * (p[1]! - x)) / p[2]!;
  return p[0]! * s;
};

/** A file of these rows, made from a seed. */
function dataFile(name: string, make: () => string): string {
  const path = join(mkdtempSync(join(tmpdir(), "mixed-speed-")), name);
  writeFileSync(path, make());
  return path;
}
function logisticCsv(): string {
  const r = seededRandom(404);
  const lines = ["id,t,y"];
  for (let i = 1; i <= 100; i++) {
    const a = 1000 + 80 * r.normal();
    const m = 22 + 2 * r.normal();
    for (let j = 0; j < 30; j++)
      lines.push(`${i},${2 * j},${a / (1 + Math.exp((m - 2 * j) / 6)) + 10 * r.normal()}`);
  }
  return lines.join("\n");
}
function linearRows(animals: number, seed: number) {
  const r = seededRandom(seed);
  const n = animals * 60;
  const id = new Int32Array(n);
  const t = new Float64Array(n);
  const season = new Float64Array(n);
  const y = new Float64Array(n);
  for (let i = 0, k = 0; i < animals; i++) {
    const b0 = 8 * r.normal();
    const b1 = 0.5 * r.normal();
    const s = i % 2;
    for (let j = 0; j < 60; j++, k++) {
      id[k] = i;
      t[k] = j;
      season[k] = s;
      y[k] = 40 + 3 * s + b0 + (6 + 0.3 * s + b1) * j + 5 * r.normal();
    }
  }
  return { id, t, season, y };
}
function linearCsv(): string {
  const { id, t, season, y } = linearRows(1000, 505);
  const lines = ["id,t,season,y"];
  id.forEach((g, k) => {
    lines.push(`${g},${t[k]},${season[k] === 1 ? "A" : "B"},${y[k]}`);
  });
  return lines.join("\n");
}
function table(path: string): Record<string, string[]> {
  const [head, ...lines] = readFileSync(path, "utf8").trim().split("\n");
  const names = head!.split(",");
  const rows = lines.map((l) => l.split(","));
  return Object.fromEntries(names.map((n, j) => [n, rows.map((r) => r[j]!)]));
}

function peer(task: string, path: string): { median: number; cpu: number; logLik: number } | null {
  const run = spawnSync("Rscript", [here("mixed-peers.R"), task, path, String(reps)], {
    encoding: "utf8",
    env: { ...process.env, OPENBLAS_NUM_THREADS: "1" },
  });
  if (run.status !== 0) return null;
  const out = JSON.parse(run.stdout.trim().split("\n").pop()!) as {
    times: number[];
    cpu: number[];
    logLik: number;
  };
  return { median: median(out.times) * 1000, cpu: median(out.cpu) * 1000, logLik: out.logLik };
}
/** Median wall time, and processor time per run: the latter hardly feels other work on the machine. */
function time<T>(work: () => T): { ms: number; cpuMs: number; last: T } {
  let last = work();
  for (let i = 0; i < 14; i++) last = work();
  const times: number[] = [];
  const before = process.cpuUsage();
  for (let i = 0; i < reps; i++) {
    const from = performance.now();
    last = work();
    times.push(performance.now() - from);
  }
  const used = process.cpuUsage(before);
  return { ms: median(times), cpuMs: (used.user + used.system) / 1000 / reps, last };
}
function linearFit(d: ReturnType<typeof linearRows>) {
  const one = new Float64Array(d.y.length).fill(1);
  return fitLinearMixed({
    response: d.y,
    fixed: {
      names: ["one", "t", "season", "t:season"],
      columns: [one, d.t, d.season, d.t.map((v, i) => v * d.season[i]!)],
    },
    levels: [{ name: "id", group: d.id, names: ["one", "t"], columns: [one, d.t] }],
  });
}
const rows: Record<string, unknown>[] = [];
const report = (row: Record<string, unknown>) => {
  rows.push(row);
  console.log(JSON.stringify(row));
};

const logisticPath = dataFile("nlme_logistic.csv", logisticCsv);
const lt = table(logisticPath);
const x = lt["t"]!.map(Number);
const response = lt["y"]!.map(Number);
const own = time(() =>
  fitNonlinearMixed(
    {
      x,
      response,
      group: lt["id"]!,
      mean: logistic,
      parameters: ["Asym", "xmid", "scal"],
      random: ["Asym", "xmid"],
    },
    { starts: [[950, 20, 7]] },
  ),
);
const nlme = peer("nlme", logisticPath);
report({
  work: "nonlinear logistic, 100 x 30, two random effects, ML",
  ms: round(own.ms),
  cpuMs: round(own.cpuMs),
  logLik: own.last.logLikelihood,
  peer:
    nlme === null
      ? "peer absent, not compared"
      : { name: "nlme", ms: round(nlme.median), cpuMs: round(nlme.cpu), logLik: nlme.logLik },
  share: nlme === null ? null : round(own.ms / nlme.median),
  cpuShare: nlme === null ? null : round(own.cpuMs / nlme.cpu),
  asked: 0.25,
});

{
  const one = makeIndividual(individualPrior(populationModel(own.last)), logistic);
  const slope = new Float64Array(3);
  const truth = Float64Array.of(1000, 22, 6);
  const animals = 500;
  const replay = (interval: boolean) => {
    for (let a = 0; a < animals; a++) {
      one.reset();
      for (let day = 0; day < 20; day++) {
        one.observe(day, logistic(day, truth, slope, 0) + ((a * 7 + day * 13) % 11) - 5);
        if (interval) one.predict(day + 7);
      }
    }
  };
  const updates = time(() => replay(false));
  const intervals = time(() => replay(true));
  report({
    work: "a new animal followed over 20 weighings, posterior after each",
    microsecondsPerUpdate: round((updates.cpuMs * 1000) / (animals * 20)),
    microsecondsPerUpdateWithInterval: round((intervals.cpuMs * 1000) / (animals * 20)),
  });
}

const linearPath = dataFile("lmm_60k.csv", linearCsv);
const mt = table(linearPath);
const loaded = {
  id: Int32Array.from(mt["id"]!, Number),
  t: Float64Array.from(mt["t"]!, Number),
  season: Float64Array.from(mt["season"]!, (v) => (v === "B" ? 1 : 0)),
  y: Float64Array.from(mt["y"]!, Number),
};
const linear = time(() => linearFit(loaded));
for (const task of ["lme", "lmer"]) {
  const other = peer(task, linearPath);
  report({
    work: "linear, 1,000 x 60, random intercept and slope, REML",
    ms: round(linear.ms),
    cpuMs: round(linear.cpuMs),
    logLik: linear.last.logLikelihood,
    peer:
      other === null
        ? "peer absent, not compared"
        : { name: task, ms: round(other.median), cpuMs: round(other.cpu), logLik: other.logLik },
    share: other === null ? null : round(linear.ms / other.median),
    cpuShare: other === null ? null : round(linear.cpuMs / other.cpu),
    asked: task === "lme" ? 0.125 : null,
  });
}

for (const animals of [1250, 5000, 20_000]) {
  const d = linearRows(animals, 606);
  let ms = Number.POSITIVE_INFINITY;
  for (let i = 0; i < 3; i++) {
    const from = performance.now();
    linearFit(d);
    ms = Math.min(ms, performance.now() - from);
  }
  report({
    work: `linear, ${animals} x 60`,
    ms: round(ms),
    microsecondsPerAnimal: round((ms * 1000) / animals),
    peakMemoryMB: Math.round(process.resourceUsage().maxRSS / 1024),
  });
}
writeFileSync(
  here("results/mixed-speed.json"),
  `${JSON.stringify(
    {
      bench: "mixed-speed",
      date: new Date().toISOString().slice(0, 10),
      machine: `${cpus()[0]?.model ?? "?"}, ${cpus().length} cores, Node ${process.version}`,
      repetitions: reps,
      rows,
    },
    null,
    2,
  )}\n`,
);
