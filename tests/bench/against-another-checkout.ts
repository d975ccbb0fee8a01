import { existsSync, readFileSync } from "node:fs";
import { loadavg } from "node:os";
import { basename, join, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { record } from "./curves-record.js";
import { stagesOf } from "./stages-of.js";

/**
 * The same work by this checkout and by another one (built; its folder is the
 * first argument), in one process and in turn, on the fixture demo: processor
 * time of each pair, and the median of their ratios, ours over theirs.
 *
 *     npm run bench against-another-checkout -- ../as-it-was
 *
 * A second argument names the jobs, with commas between them, a third how many pairs (7).
 * The result is written down with the stages of our `analyse`, each job with its day and
 * the load of the machine beside it; jobs not named keep what they were. "next day" and
 * "earlier day" are the flags of one day: ours go on from a history that is warm (every day
 * up to the one before, and the whole of the records), theirs find them as they always do.
 * "analyse" is cold: nothing that was worked out before is at hand.
 */
const [folder, only, pairsText = "7"] = process.argv.slice(2);
if (folder === undefined) throw new Error("Name the folder of another checkout that was built.");
const root = fileURLToPath(new URL("../..", import.meta.url));
const demo = join(root, "tests", "fixtures", "demo-853cc0e");

type Entry = Record<string, unknown>;
// biome-ignore lint/suspicious/noExplicitAny: another version's functions have no types here.
type Anything = any;

/** A function by its name, at the top of the entry or in a room of it. */
function named(entry: Entry, name: string): Anything {
  if (typeof entry[name] === "function") return entry[name];
  for (const room of Object.values(entry)) {
    const found = (room as Entry | null)?.[name];
    if (typeof found === "function") return found;
  }
  throw new Error(`${name} is not public there`);
}

const load = async (at: string): Promise<Entry> =>
  import(pathToFileURL(join(resolve(at), "dist", "index.js")).href);

interface Side {
  readonly call: (name: string, ...values: unknown[]) => Anything;
  readonly study: Anything;
  readonly series: Anything;
  /** The histories as they stood at the end of a day. */
  readonly seriesOn: (day: string) => Promise<Anything>;
}

const nextDay = { before: "2024-06-11", day: "2024-06-12" };
const earlierDay = { last: "2024-07-10", day: "2024-05-20" };

async function side(at: string): Promise<Side> {
  const entry = await load(at);
  const call = (name: string, ...values: unknown[]) => named(entry, name)(...values);
  const study = await call("readStudy", demo);
  const days = new Map<string, Anything>();
  return {
    call,
    study,
    series: call("buildSeries", study),
    seriesOn: async (day) => {
      if (!days.has(day))
        days.set(day, (await call("analyse", study, { curves: [], onDay: day })).value.series);
      return days.get(day);
    },
  };
}

const pointsOf = (s: Side) =>
  s.series.animals
    .map((a: Anything) => a.daily.filter((d: Anything) => d.ageD !== null))
    .filter((days: Anything[]) => days.length > 15)
    .map((days: Anything[]) => ({
      ages: days.map((d) => d.ageD),
      masses: days.map((d) => d.massG),
    }));

/** Each does what a reader waits for; a second or so on one core. */
const jobs: Record<string, (s: Side) => unknown> = {
  records: (s) => s.call("readStudy", demo),
  curves: (s) => {
    for (let turn = 0; turn < 6; turn++)
      for (const points of pointsOf(s))
        for (const curve of ["gompertz", "logistic"]) s.call("fitCurve", points, { curve });
  },
  mixed: (s) => {
    const histories = pointsOf(s).map((p: Anything, i: number) => ({ animal: `A${i}`, ...p }));
    s.call("fitCohort", histories, { curve: "gompertz" });
    s.call("fitCohort", histories, { curve: "logistic" });
  },
  replay: (s) => s.call("replayFlags", s.series, { from: "2024-03-01", to: "2024-07-10" }),
  // A copy of the study carries nothing that was worked out from it before.
  analyse: (s) => s.call("analyse", { ...s.study }),
  "analyse next day": async (s) => {
    const kept = s === ours ? { kept: { history: await historyOf(nextDay.before) } } : {};
    return s.call("analyse", { ...s.study }, { onDay: nextDay.day, ...kept });
  },
  "next day": (s) => flagsOn(s, nextDay.day, nextDay.before),
  "earlier day": (s) => flagsOn(s, earlierDay.day, earlierDay.last),
};

const [ours, theirs] = [await side(root), await side(folder)];
const { replayFlagsOn } = (await import(
  pathToFileURL(join(root, "dist", "flags", "replay-flags.js")).href
)) as Anything;
/** Our history of the watch at the end of a day; made once, before any job is timed. */
const histories = new Map<string, Anything>();
async function historyOf(day: string): Promise<Anything> {
  if (!histories.has(day)) {
    const series = await ours.seriesOn(day);
    histories.set(day, replayFlagsOn("begin", series, { from: day, to: day }).history);
  }
  return histories.get(day);
}

async function flagsOn(s: Side, day: string, historyDay: string): Promise<unknown> {
  const series = await s.seriesOn(day);
  return s === ours
    ? replayFlagsOn(await historyOf(historyDay), series, { from: day, to: day })
    : s.call("replayFlags", series, { from: day, to: day });
}

const chosen = only?.split(",") ?? Object.keys(jobs);
const time = async (job: (s: Side) => unknown, s: Side) => {
  const before = process.cpuUsage();
  await job(s);
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1e6;
};
const rows: { readonly job: string }[] = [];
for (const name of chosen) {
  const job = jobs[name];
  if (job === undefined) throw new Error(`There is no job called ${name}.`);
  await job(ours);
  await job(theirs);
  const pairs: { ours: number; theirs: number }[] = [];
  for (let turn = 0; turn < Number(pairsText); turn++) {
    const first = turn % 2 === 0;
    const a = await time(job, first ? ours : theirs);
    const b = await time(job, first ? theirs : ours);
    pairs.push(first ? { ours: a, theirs: b } : { ours: b, theirs: a });
  }
  const middle = (xs: number[]) => xs.sort((x, y) => x - y)[Math.floor(xs.length / 2)]!;
  const ratio = middle(pairs.map((p) => p.ours / p.theirs));
  const row = {
    job: name,
    ours: middle(pairs.map((p) => p.ours)),
    theirs: middle(pairs.map((p) => p.theirs)),
    ratio: Math.round(1000 * ratio) / 1000,
    pairs: pairs.length,
    ran: new Date().toISOString().slice(0, 10),
    load: Number(loadavg()[0]!.toFixed(1)),
  };
  rows.push(row);
  console.log(
    `${name.padEnd(12)} ours ${row.ours.toFixed(2)} s, theirs ` +
      `${row.theirs.toFixed(2)} s; median of paired ratios ${ratio.toFixed(3)}`,
  );
}
if (chosen.includes("analyse")) {
  const sharesPct = await stagesOf(
    () => ours.call("analyse", { ...ours.study }),
    ["studyUpTo", "buildSeries", "intakeByDay", "watchOn", "ruleOutcomes", "causalPhases"].concat([
      "replayFlagsOn",
      "analyseAnimal",
      "dailyGains",
      "fitCurve",
      "withZ",
    ]),
  );
  console.log("stages of our analyse, %:", sharesPct);
  rows.push({ job: "analyse by stage", sharesPct } as { readonly job: string });
}

/** Rows of jobs that were not run now, from an earlier run against the same checkout. */
function earlierRows(against: string): readonly { readonly job: string }[] {
  const file = fileURLToPath(new URL("./results/against-another-checkout.json", import.meta.url));
  if (!existsSync(file)) return [];
  const before = JSON.parse(readFileSync(file, "utf8"));
  return before.settings.against === against
    ? before.rows.filter((row: { job: string }) => rows.every(({ job }) => job !== row.job))
    : [];
}

const against = basename(resolve(folder));
record("against-another-checkout", { against, fixture: "demo-853cc0e" }, [
  ...earlierRows(against),
  ...rows,
]);
