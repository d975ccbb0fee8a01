/**
 * Time of whole fits (self-start, estimates, standard errors, AICc) side by side
 * with SciPy `curve_fit(method="lm")` on the same 1,000 series of 60 points, and
 * of 100,000 series. One core each; interpreter start and reading not counted;
 * both sides warmed up; turns taken. Elapsed and processor time are both given:
 * on a machine busy with other work only the second can be compared.
 * Run: tsx tests/bench/curves-speed.ts
 */
import { spawnSync } from "node:child_process";
import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { type Random, seededRandom } from "../../src/core/random.js";
import type { CurveName } from "../../src/growth/curve-catalogue.js";
import { fitCurve } from "../../src/growth/fit-curve.js";
import { fitManyCurves } from "../../src/growth/fit-many-curves.js";
import { record } from "./curves-record.js";

interface Series {
  readonly ages: number[];
  readonly masses: number[];
}

/** Final mass 1000 (sd 80), errors of sd 8, daily for 60 days, rounded to 0.001. */
const shapes: Readonly<Record<string, (r: Random) => (t: number) => number>> = {
  logistic: (r) => {
    const [a, m, s] = [1000 + 80 * r.normal(), 22 + 2 * r.normal(), 6 + 0.6 * r.normal()];
    return (t) => a / (1 + Math.exp((m - t) / s));
  },
  gompertz: (r) => {
    const [a, b, c] = [1000 + 80 * r.normal(), 4 + 0.3 * r.normal(), 0.9 + 0.006 * r.normal()];
    return (t) => a * Math.exp(-b * c ** t);
  },
  richards: (r) => {
    const [a, k, m] = [1000 + 80 * r.normal(), 0.16 + 0.01 * r.normal(), 20 + 1.5 * r.normal()];
    const nu = Math.exp(Math.log(0.6) + 0.15 * r.normal());
    return (t) => a * (1 + nu * Math.exp(-k * (t - m))) ** (-1 / nu);
  },
};

function makeSeries(curve: string, count: number, seed: number): Series[] {
  const random = seededRandom(seed);
  return Array.from({ length: count }, () => {
    const f = shapes[curve]!(random);
    const ages = Array.from({ length: 60 }, (_, t) => t);
    return { ages, masses: ages.map((t) => Number((f(t) + 8 * random.normal()).toFixed(3))) };
  });
}

const median = (x: readonly number[]) => [...x].sort((a, b) => a - b)[x.length >> 1]!;
const script = fileURLToPath(new URL("./curves-scipy.py", import.meta.url));
const folder = mkdtempSync(join(tmpdir(), "curves-"));
const rows: Record<string, unknown>[] = [];

interface Peer {
  readonly scipy: string;
  readonly seconds: number;
  readonly fastest: number;
  readonly cpu: number;
  readonly cpuFastest: number;
  readonly fitted: number;
  readonly meanAsymptote: number;
  readonly rss: number;
}

function runPeer(curve: string, file: string): Peer | null {
  const { OPENBLAS_CORETYPE: _, ...env } = process.env;
  const run = spawnSync("/usr/bin/python3", [script, curve, file, "3"], {
    env: { ...env, OPENBLAS_NUM_THREADS: "1" },
    encoding: "utf8",
  });
  return run.status === 0 ? (JSON.parse(run.stdout) as Peer) : null;
}

for (const [curve, limit] of [
  ["logistic", 1 / 5],
  ["gompertz", 1 / 5],
  ["richards", 1 / 3],
] as const) {
  const series = makeSeries(curve, 1000, 101);
  const file = join(folder, `${curve}.csv`);
  const lines = series.flatMap((each, i) =>
    each.ages.map((t, j) => `${i + 1},${t},${each.masses[j]}`),
  );
  writeFileSync(file, `id,t,y\n${lines.join("\n")}\n`);
  let converged = 0;
  let rss = 0;
  const ours = () => {
    const begin = performance.now();
    const beginCpu = process.cpuUsage();
    converged = 0;
    rss = 0;
    for (const each of series) {
      const { value } = fitCurve(each, { curve: curve as CurveName });
      if (
        value.converged &&
        value.aicc !== null &&
        value.estimates.every((one) => one.estimate.se! > 0)
      ) {
        converged++;
        rss += value.rss!;
      }
    }
    times.push(performance.now() - begin);
    const { user, system } = process.cpuUsage(beginCpu);
    cpu.push((user + system) / 1000);
  };
  const times: number[] = [];
  const cpu: number[] = [];
  for (let i = 0; i < 8; i++) ours();
  times.length = 0;
  cpu.length = 0;
  const peers: Peer[] = [];
  for (let turn = 0; turn < 5; turn++) {
    for (let i = 0; i < 3; i++) ours();
    const peer = runPeer(curve, file);
    if (peer !== null) peers.push(peer);
  }
  const rounded = (x: number) => Number(x.toFixed(3));
  const row: Record<string, unknown> = {
    what: `${curve}, 1,000 series of 60 points, microseconds a fit`,
    elapsed: rounded(median(times)),
    processor: rounded(median(cpu)),
    processorFastest: rounded(Math.min(...cpu)),
    converged,
    rss,
  };
  if (peers.length === 0) row["peer"] = "peer absent, not compared";
  else {
    const theirs = {
      elapsed: median(peers.map((each) => 1000 * each.seconds)),
      processor: median(peers.map((each) => 1000 * each.cpu)),
      processorFastest: Math.min(...peers.map((each) => 1000 * each.cpuFastest)),
    };
    Object.assign(row, {
      peer: `SciPy ${peers[0]!.scipy} curve_fit(method="lm")`,
      peerElapsed: rounded(theirs.elapsed),
      peerProcessor: rounded(theirs.processor),
      peerProcessorFastest: rounded(theirs.processorFastest),
      ratioElapsed: rounded(median(times) / theirs.elapsed),
      ratioProcessor: rounded(median(cpu) / theirs.processor),
      ratioProcessorFastest: rounded(Math.min(...cpu) / theirs.processorFastest),
      allowed: rounded(limit),
      peerFitted: peers[0]!.fitted,
      rssOverPeers: rss / peers[0]!.rss,
    });
  }
  rows.push(row);
  console.log(JSON.stringify(row));
}

for (const [count, threads] of [
  [10_000, 0],
  [100_000, 0],
  [100_000, 2],
] as const) {
  const series = makeSeries("logistic", count, 202).map((each, i) => ({ name: `${i}`, ...each }));
  let steps = 0;
  const begin = performance.now();
  const beginCpu = process.cpuUsage();
  const many = await fitManyCurves(series, {
    curve: "logistic",
    threads,
    onProgress: () => steps++,
  });
  const seconds = (performance.now() - begin) / 1000;
  const row = {
    what: `${count} logistic series of 60 points, ${threads} threads`,
    seconds: Number(seconds.toFixed(2)),
    processorMicrosecondsASeries: Number(
      ((process.cpuUsage(beginCpu).user + process.cpuUsage(beginCpu).system) / count).toFixed(1),
    ),
    converged: many.value.converged,
    progressReports: steps,
  };
  rows.push(row);
  console.log(JSON.stringify(row));
}
record("curves-speed", { points: 60, seeds: [101, 202], turns: 5 }, rows);
