import { writeFileSync } from "node:fs";
import { cpus } from "node:os";
import { fileURLToPath } from "node:url";
import { replayFlags } from "../../src/flags/replay-flags.js";
import type { AnimalSeries, SeriesFeed } from "../../src/series/animal-series.js";
import { localNoon } from "../../src/units/calendar.js";
import { healthyStudy, origin } from "../flags/invented-study.js";

/** One facility for a year: 30 animals x 180 days with 8 feeds a day, replayed day by day. */
const hour = 3_600_000;
const study = healthyStudy(30, 180, 20310901);
const animals = study.animals.map((a): AnimalSeries => {
  const feeds = a.daily.flatMap((d) =>
    Array.from({ length: 8 }, (_, k): SeriesFeed => {
      const at = localNoon(d.feedingDay, "UTC") - 12 * hour + (3 * k + 1) * hour;
      return {
        row: {
          animalId: a.animal.animalId,
          groupId: null,
          at,
          dietId: "F",
          batchId: null,
          offeredG: 70,
          refusedG: 5,
          route: "bottle",
          notes: null,
          origin,
        },
        at,
        feedingDay: d.feedingDay,
        offeredG: 70,
        eatenG: 65,
        eatenLowG: 65,
        eatenHighG: 65,
        composition: {
          waterPct: null,
          proteinPct: null,
          fatPct: null,
          carbohydratePct: null,
          fibrePct: null,
          ashPct: null,
          energyKcalPerG: 1.5,
          kind: "formula",
        },
        densityGPerMl: null,
        dietId: "F",
        batchAgeH: 3,
        useByH: 24,
      };
    }),
  );
  return { ...a, feeds };
});
const runs = [0, 1, 2].map(() => {
  const cpu = process.cpuUsage().user;
  const wall = performance.now();
  const replay = replayFlags({ ...study, animals });
  return {
    cpuSeconds: Number(((process.cpuUsage().user - cpu) / 1e6).toFixed(2)),
    wallSeconds: Number(((performance.now() - wall) / 1e3).toFixed(2)),
    days: replay.days.length,
    lists: replay.days.reduce((n, d) => n + d.animals.length, 0),
  };
});
for (const r of runs) console.log(JSON.stringify(r));
writeFileSync(
  fileURLToPath(new URL("./results/flags-replay.json", import.meta.url)),
  `${JSON.stringify({ bench: "flags-replay", date: new Date().toISOString().slice(0, 10), machine: `${cpus()[0]?.model ?? "unknown"}, ${cpus().length} cores, Node ${process.version}`, asked: "under 5 s on one core", runs }, null, 2)}\n`,
);
