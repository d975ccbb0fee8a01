import { describe, expect, it } from "vitest";
import { cumulativeShares } from "../../../src/seasons/cumulative-shares.js";
import { intervalLogRank } from "../../../src/stats/survival/interval-log-rank.js";
import { turnbull } from "../../../src/stats/survival/turnbull.js";
import { turnbullSurvival } from "../../../src/stats/survival/turnbull-survival.js";
import { readReference, readReferenceText } from "../reference-folder.js";

interface Cases {
  readonly cases: readonly { readonly id: string; readonly output: Record<string, unknown> }[];
}

function csv(name: string): Record<string, string>[] {
  const [head, ...lines] = readReferenceText(`data/${name}`).trim().split("\n");
  const names = head!.replaceAll('"', "").split(",");
  return lines.map((line) => {
    const cells = line.replaceAll('"', "").split(",");
    return Object.fromEntries(names.map((n, i) => [n, cells[i] ?? ""]));
  });
}

/** Against R 4.2.2 (survival 3.5-3) on its own data sets. */
describe("against R on exact and right-censored times", () => {
  const output = (id: string) =>
    readReference<Cases>("values/survival.json").cases.find((c) => c.id === id)!.output;
  // In the lung data status 2 is death.
  const lung = () =>
    csv("lung.csv").map((r) => ({
      time: Number(r["time"]),
      seen: r["status"] === "2",
      sex: r["sex"]!,
    }));

  it("Turnbull's estimate is Kaplan and Meier's on the 228 lung patients (1e-6)", () => {
    const fit = turnbull(
      lung().map((r) => ({ after: r.time, by: r.seen ? r.time : null })),
      { tolerance: 1e-10 },
    );
    expect(fit.converged).toBe(true);
    const { time, surv } = output("km-lung-log") as { time: number[]; surv: number[] };
    // At the last death everything to the right is open; before it both bounds meet.
    time.forEach((t, i) => {
      const s = turnbullSurvival(fit, t);
      expect(Math.abs(s.upper - surv[i]!)).toBeLessThan(1e-6);
    });
  });

  it("the log-rank sums between looks are survdiff's observed less expected (1e-5)", () => {
    const rows = lung();
    const test = intervalLogRank(
      rows.map((r) => ({ after: r.time, by: r.seen ? r.time : null })),
      rows.map((r) => r.sex),
    );
    const { obs, exp, chisq } = output("survdiff-lung-sex-rho0") as {
      obs: number[];
      exp: number[];
      chisq: number;
    };
    test.sums.forEach((s, g) => {
      expect(Math.abs(s - (obs[g]! - exp[g]!))).toBeLessThan(1e-4);
    });
    // The permutation variance is not the hypergeometric one, but near it.
    expect(Math.abs(test.chiSquared! / chisq - 1)).toBeLessThan(0.05);
  });

  it("shares with competing events are R's Aalen-Johansen on mgus2 (1e-10)", () => {
    const { times, pstate } = output("aalen-johansen-mgus2") as {
      times: number[];
      pstate: number[][];
    };
    const rows = csv("mgus2.csv").map((r, i) => {
      const progressed = r["pstat"] === "1";
      const day = Number(progressed ? r["ptime"] : r["futime"]);
      const ended = progressed ? "seen" : r["death"] === "1" ? "died" : "still in care";
      return {
        animalId: String(i),
        season: null,
        entered: -1,
        after: day,
        by: progressed ? day : null,
        ended: ended as "seen" | "died" | "still in care",
        last: day,
        looks: 1,
      };
    });
    const shares = cumulativeShares(rows);
    times.forEach((t, i) => {
      const at = shares.filter((s) => s.day <= t).at(-1)!;
      expect(Math.abs(at.seen - pstate[i]![1]!)).toBeLessThan(1e-10);
      expect(Math.abs(at.died - pstate[i]![2]!)).toBeLessThan(1e-10);
    });
  });
});
