import { mkdirSync, writeFileSync } from "node:fs";
import { cpus } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { families, type Planted } from "./causes/families.js";
import { type TriedNursery, tryNursery } from "./causes/try-nursery.js";

/**
 * Twelve families of planted causes, each in so many invented nurseries: how often
 * the table of rival explanations calls the planted cause likely, has it among its
 * first two, and calls another one likely.
 *
 * Seeds, written down before any rule was tuned: held out 20271400 + 1000 x family
 * + run; tuning was done on 20261400 + 1000 x family + run alone. The inventor was
 * amended once, before the held-out worlds were run: of two exchanged animals the
 * partner is chosen on the day of the exchange, not at the start (some had grown
 * alike by then, and nothing was slow).
 *
 * Arguments: runs of each family (60), "held-out" or "tuning", families (all; names
 * separated by commas).
 */
const [, , runsText = "60", which = "held-out", only = ""] = process.argv;
const runs = Number(runsText);
const first = which === "tuning" ? 20261400 : 20271400;
const wanted = families.filter((f) => only === "" || only.split(",").includes(f));

const tried: TriedNursery[] = [];
const share = (part: number, of: number) => (of === 0 ? null : Math.round((1000 * part) / of) / 10);
const row = (name: string, of: readonly TriedNursery[]) => {
  const told = of.filter((t) => t.nursery.canBeTold);
  return {
    family: name,
    runs: of.length,
    canBeTold: told.length,
    likelyPct: share(told.filter((t) => t.likely).length, told.length),
    amongFirstTwoPct: share(of.filter((t) => t.amongTwo).length, of.length),
    wrongLikelyPct: share(of.filter((t) => t.wrong.length > 0).length, of.length),
    calledSlowPct: share(
      of.filter((t) => t.explanations.slow === "slow" || t.explanations.slow === "loses").length,
      of.length,
    ),
  };
};
/** Causes that hurt, and what would excuse them. */
const hurts: readonly Planted[] = ["loses", "illness signs", "thin batch"];
const excuses = ["scale", "swap", "small but healthy"];
const excusedOf = () =>
  tried.filter((t) => hurts.includes(t.planted) && t.wrong.some((w) => excuses.includes(w)));
const shortly = () => ({
  all: row("all", tried),
  families: wanted.map((f) =>
    row(
      f,
      tried.filter((t) => t.planted === f),
    ),
  ),
  excused: excusedOf().length,
});

for (let run = 0; run < runs; run++) {
  for (const planted of wanted) {
    const one = await tryNursery(planted, first + 1000 * families.indexOf(planted) + run);
    tried.push(one);
    if (
      process.env["SHOW"] !== undefined &&
      (!one.amongTwo || one.wrong.length > 0 || !one.likely)
    ) {
      const { explanations: e, nursery } = one;
      console.log(
        `${planted} ${one.seed} ${nursery.canBeTold ? "" : "(untold) "}${e.slow} from ${e.from} ago ${nursery.scenario.ago}:`,
        e.rivals
          .slice(0, 4)
          .map((r) => `${r.rival}=${r.verdict} ${r.weight.toFixed(2)}`)
          .join("; "),
        "| truth:",
        e.rivals
          .filter(
            (r) =>
              r.rival === planted || (r.rival.startsWith("conv") && /conv|loses/.test(planted)),
          )
          .map(
            (r) =>
              `${r.verdict} ${r.weight.toFixed(2)} ${JSON.stringify((r.speaksFor[0] ?? r.speaksAgainst[0] ?? r.ask[0])?.parameters)}`,
          )
          .join(),
      );
    }
  }
  // A long bench says on its way what it has so far.
  if (run % 2 === 1) console.log(JSON.stringify({ rounds: run + 1, ...shortly() }));
}

const result = {
  bench: "slow-gainer-causes",
  date: new Date().toISOString().slice(0, 10),
  machine: cpus()[0]?.model ?? "unknown",
  seeds: `${first} + 1000 x family + run, run 0 to ${runs - 1}`,
  families: wanted.map((f) =>
    row(
      f,
      tried.filter((t) => t.planted === f),
    ),
  ),
  all: row("all", tried),
  excusedPct: share(excusedOf().length, tried.filter((t) => hurts.includes(t.planted)).length),
  wrong: Object.fromEntries(
    wanted.map((f) => [
      f,
      tried
        .filter((t) => t.planted === f && t.wrong.length > 0)
        .map((t) => `${t.seed}: ${t.wrong.join(", ")}`),
    ]),
  ),
};
console.table([...result.families, result.all]);
console.log(JSON.stringify({ excusedPct: result.excusedPct, wrong: result.wrong }, null, 1));
if (which === "held-out" && runs >= 60 && only === "") {
  const file = join(
    dirname(fileURLToPath(import.meta.url)),
    "results",
    `slow-gainer-causes-${result.date}.json`,
  );
  mkdirSync(dirname(file), { recursive: true });
  writeFileSync(file, `${JSON.stringify(result, null, 2)}\n`);
}
