import { join, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";

/**
 * The same work by this checkout and by another one (built; its folder is the
 * first argument), in one process and in turn, on the fixture demo: processor
 * time of each pair, and the median of their ratios, ours over theirs.
 *
 *     npm run bench against-another-checkout -- ../as-it-was
 *
 * A second argument names the jobs, with commas between them.
 */
const [folder, only] = process.argv.slice(2);
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
  readonly analysis: Anything;
}

async function side(at: string): Promise<Side> {
  const entry = await load(at);
  const call = (name: string, ...values: unknown[]) => named(entry, name)(...values);
  const study = await call("readStudy", demo);
  const analysis = (await call("analyse", study, { curves: [] })).value;
  return { call, study, series: call("buildSeries", study), analysis };
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
  analyse: (s) => s.call("analyse", s.study),
};

const chosen = only?.split(",") ?? Object.keys(jobs);
const [ours, theirs] = [await side(root), await side(folder)];
const time = async (job: (s: Side) => unknown, s: Side) => {
  const before = process.cpuUsage();
  await job(s);
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1e6;
};
for (const name of chosen) {
  const job = jobs[name];
  if (job === undefined) throw new Error(`There is no job called ${name}.`);
  await job(ours);
  await job(theirs);
  const pairs: { ours: number; theirs: number }[] = [];
  for (let turn = 0; turn < 7; turn++) {
    const first = turn % 2 === 0;
    const a = await time(job, first ? ours : theirs);
    const b = await time(job, first ? theirs : ours);
    pairs.push(first ? { ours: a, theirs: b } : { ours: b, theirs: a });
  }
  const middle = (xs: number[]) => xs.sort((x, y) => x - y)[Math.floor(xs.length / 2)]!;
  const ratio = middle(pairs.map((p) => p.ours / p.theirs));
  console.log(
    `${name.padEnd(8)} ours ${middle(pairs.map((p) => p.ours)).toFixed(2)} s, theirs ` +
      `${middle(pairs.map((p) => p.theirs)).toFixed(2)} s; median of paired ratios ${ratio.toFixed(3)}`,
  );
}
