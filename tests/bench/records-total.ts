import { totalRecords } from "../../src/records/files/total-records.js";

/** One run in a process of its own: reads, checks and adds up the file, prints what it took. */
const path = process.argv[2]!;
const from = performance.now();
const cpu = process.cpuUsage();
const totals = await totalRecords(path, {
  settings: { zone: "UTC", feedingDayStartHour: 0, dateStyle: "year-month-day", decimal: "point" },
  table: "feeds",
  headers: { animal: "animal", at: "time", amount: "grams", kind: "kind" },
});
const check = { nfeed: 0, nweight: 0, sumfeed: 0, meanw: 0 };
for (const g of totals.groups()) {
  if (g.kind === "feed") {
    check.nfeed++;
    check.sumfeed += g.sumG;
  } else {
    check.nweight++;
    check.meanw += g.sumG / g.n;
  }
}
check.meanw /= check.nweight;
const used = process.cpuUsage(cpu);
console.log(
  JSON.stringify({
    seconds: (performance.now() - from) / 1000,
    cpuSeconds: (used.user + used.system) / 1e6,
    peakMB: process.resourceUsage().maxRSS / 1024,
    rows: totals.rowsIn,
    setAside: totals.setAside,
    check,
  }),
);
