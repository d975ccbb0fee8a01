import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { cpus } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { seededRandom } from "../../src/core/random.js";
import { attackRecords } from "../attack/mutated-records.js";
import { tryWorkbook } from "../records/mutate.js";

/**
 * 100,000 spoilt text files read, their rows counted by lines, analysed with levels
 * and orders, one in eight made into pages (seed 20270318, as in `npm run attack`),
 * and 5,000 spoilt workbooks read (seed 20250323): no crash, no number without a
 * value, no lost row, memory bounded.
 *
 * Arguments: texts or workbooks, from which on (0), up to which (100,000 or 5,000).
 * Kept in portions of a thousand, each written when it is done: a stop loses nothing,
 * and a portion that is run again takes the place of what it was.
 */
const [, , what = "texts", fromText = "0", toText] = process.argv;
const texts = what !== "workbooks";
const seed = texts ? 20270318 : 20250323;
const to = Number(toText ?? (texts ? 100_000 : 5_000));
const size = 1000;

interface Portion {
  readonly date: string;
  files: number;
  refusedWhenRead: number;
  refusedWhenAnalysed: number;
  rowsIn: number;
  setAside: number;
  /** Files whose rows were counted by lines. */
  countedByLines: number;
  readonly faults: string[];
  worstMs: number;
  seconds: number;
  peakMB: number;
}

async function portion(from: number, end: number): Promise<Portion> {
  const random = seededRandom(seed);
  const done: Portion = {
    date: new Date().toISOString().slice(0, 10),
    files: 0,
    refusedWhenRead: 0,
    refusedWhenAnalysed: 0,
    rowsIn: 0,
    setAside: 0,
    countedByLines: 0,
    faults: [],
    worstMs: 0,
    seconds: 0,
    peakMB: 0,
  };
  const begun = process.cpuUsage();
  for (let i = from; i < end; i++) {
    const at = performance.now();
    done.files++;
    try {
      const one = texts ? await attackRecords(random.split(i)) : workbook(random.split(i));
      if (one.refused === "read") done.refusedWhenRead++;
      if (one.refused === "analysed") done.refusedWhenAnalysed++;
      if (one.counted) done.countedByLines++;
      done.rowsIn += one.rowsIn;
      done.setAside += one.setAside;
    } catch (error) {
      done.faults.push(`${i}: ${(error as Error).message}`);
    }
    done.worstMs = Math.max(done.worstMs, Math.round(performance.now() - at));
  }
  const { user, system } = process.cpuUsage(begun);
  done.seconds = Math.round((user + system) / 1e5) / 10;
  done.peakMB = Math.round(process.resourceUsage().maxRSS / 1024);
  return done;
}

function workbook(random: Parameters<typeof tryWorkbook>[0]) {
  const study = tryWorkbook(random);
  if (study === "refused")
    return { refused: "read", rowsIn: 0, setAside: 0, counted: false } as const;
  const rowsIn = study.counts.reduce((n, c) => n + c.rowsIn, 0);
  return { refused: null, rowsIn, setAside: study.setAside.length, counted: false } as const;
}

const out = join(dirname(fileURLToPath(import.meta.url)), "results", "records-spoilt.json");
type Kept = Record<"texts" | "workbooks", Record<string, Portion>>;

function write(name: string, done: Portion): void {
  const seeds = { texts: 20270318, workbooks: 20250323 };
  const before = existsSync(out)
    ? (JSON.parse(readFileSync(out, "utf8")) as { portions?: Kept; seeds?: typeof seeds })
    : {};
  const portions: Kept = { texts: {}, workbooks: {}, ...before.portions };
  // Portions of another seed are other files.
  if (before.seeds?.texts !== seeds.texts) portions.texts = {};
  portions[texts ? "texts" : "workbooks"][name] = done;
  const sums = Object.fromEntries(
    Object.entries(portions).map(([kind, all]) => {
      const list = Object.values(all);
      const sum = (key: keyof Portion) => list.reduce((n, p) => n + Number(p[key]), 0);
      return [
        kind,
        {
          files: sum("files"),
          refusedWhenRead: sum("refusedWhenRead"),
          refusedWhenAnalysed: sum("refusedWhenAnalysed"),
          rowsIn: sum("rowsIn"),
          setAside: sum("setAside"),
          countedByLines: sum("countedByLines"),
          faults: list.reduce((n, p) => n + p.faults.length, 0),
          worstMs: Math.max(0, ...list.map((p) => p.worstMs)),
          processorSeconds: Math.round(sum("seconds")),
          peakMB: Math.max(0, ...list.map((p) => p.peakMB)),
        },
      ];
    }),
  );
  const machine = { machine: cpus()[0]?.model.trim(), node: process.version };
  mkdirSync(dirname(out), { recursive: true });
  writeFileSync(out, `${JSON.stringify({ ...machine, seeds, sums, portions }, null, 2)}\n`);
}

for (let i = Number(fromText); i < to; i += size) {
  const done = await portion(i, Math.min(i + size, to));
  write(`from ${String(i).padStart(5, "0")}`, done);
  console.log(`${i + done.files} ${what}: ${done.faults.length} faults, ${done.seconds} s`);
  for (const fault of done.faults) console.log("  fault", fault);
  if (done.faults.length > 0) process.exitCode = 1;
}
