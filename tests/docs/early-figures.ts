import { benchResult } from "../../docs/build/validation/bench-results.js";
import { pooled, type EarlyRow as Row, rateAt } from "../bench/worlds/early-rows.js";

const pct = (share: number) => (100 * share).toFixed(0);
const ends = (values: readonly number[], digits = 0) => {
  const [low, high] = [Math.min(...values), Math.max(...values)].map((x) => x.toFixed(digits));
  return low === high ? low : `${low} to ${high}`;
};

/** What README and the pages quote of the bench `early`: the rows of its table, and words. */
export function earlyFigures(): { readonly table: readonly string[]; readonly words: string[] } {
  const { data } = benchResult("early");
  const rows = data["rows"] as unknown as readonly Row[];
  return { table: tableOf(rows), words: wordsOf(rows, Number(data["nurseriesOfTen"])) };
}

function tableOf(rows: readonly Row[]): string[] {
  const line = (name: string, animals: number, before: string) => {
    const own = rows.filter((r) => r.animals === animals && r.before === before);
    const sorted = own.slice().sort((a, b) => halved(a) - halved(b));
    const end = (r: Row) => `${pct(halved(r))} % (${r.world})`;
    const hard = own.find((r) => r.world === "hard")!;
    const rates = own.map((r) => rateAt(r, 2));
    return `| ${name} | ${pct(halved(hard))} % | ${end(sorted[0]!)} | ${end(sorted.at(-1)!)} | ${ends(rates, 1)} (${pooled(own, 2).toFixed(1)}) |`;
  };
  return [
    line("alone, nothing known of its kind", 1, "nothing"),
    line("alone, after two seasons of one's own", 1, "two seasons"),
    line("alone, with prior files of other nurseries", 1, "prior file"),
    line("two together, with prior files", 2, "prior file"),
    line("three together, with prior files", 3, "prior file"),
    line("five together, with prior files", 5, "prior file"),
    line("ten together", 10, "nothing"),
    line("ten together, with prior files", 10, "prior file"),
    line("25 together, with prior files", 25, "prior file"),
  ];
}

function wordsOf(all: readonly Row[], nurseries: number): string[] {
  const right = all.filter((r) => !r.before.startsWith("20 %"));
  const wrong = all.filter((r) => r.before.startsWith("20 %"));
  const worlds = [...new Set(all.map((r) => r.world))];
  const by = (asked: number) =>
    worlds
      .map((world) => ({ world, rate: pooled(of(right, world), asked) }))
      .sort((a, b) => a.rate - b.rate);
  const said = (asked: number) => {
    const sorted = by(asked);
    const [low, high] = [sorted[0]!, sorted.at(-1)!];
    return `for ${asked} asked ${pooled(right, asked).toFixed(1)} came (${low.rate.toFixed(1)} in "${low.world}", ${high.rate.toFixed(1)} in "${high.world}")`;
  };
  const wrongRates = worlds.map((world) => pooled(of(wrong, world), 2));
  const inCare = pooled(right, 2, "per100InCare");
  const found = (what: "stopped" | "fallen" | "slight") =>
    right.flatMap((r) => {
      const f = r.found[what];
      return f === undefined ? [] : [{ ...f, world: r.world }];
    });
  const [stopped, fallen, slight] = [found("stopped"), found("fallen"), found("slight")];
  const shares = (some: readonly { share: number }[]) =>
    `${ends(some.map((f) => 100 * f.share))} %`;
  const days = (some: readonly { median: number | null }[]) =>
    ends(some.map((f) => f.median ?? Number.NaN));
  const affected = right.flatMap((r) => r.found["halved"]?.n ?? []);
  return [
    `in ${count(worlds.length)} kinds, ${nurseries} nurseries of ten or more for each row and kind (as many animals in groups of another size)`,
    `Over all kinds and sizes ${said(2)}, ${said(5)}; for 1 asked ${pooled(right, 1).toFixed(1)} and for 0.5 ${pooled(right, 0.5).toFixed(1)}`,
    `In 100 weeks in care ${inCare.toFixed(1)} came for 2 asked`,
    `prior files that are 20 % wrong either way ${ends(wrongRates, 1)} came by kind for 2 asked`,
    `A gain that stops is flagged within 14 days in ${shares(stopped)} (half of them within ${days(stopped)} days)`,
    `a fall of 20 % over 5 days in ${shares(fallen)} (${days(fallen)} days)`,
    `a gain 15 % lower in ${shares(slight)} by day 30`,
    `small samples (${ends(affected)} affected pups a row: by chance alone up to ${(100 / Math.sqrt(Math.min(...affected))).toFixed(0)} of 100 more or fewer are found)`,
  ];
}

const halved = (r: Row) => r.found["halved"]!.share;
const of = <R extends { readonly world: string }>(rows: readonly R[], world: string) =>
  rows.filter((r) => r.world === world);

/** What README quotes of the healthy part by itself, measured since a flag closes earlier. */
export function healthyWords(): string[] {
  const { data } = benchResult("early-healthy");
  const rows = data["rows"] as unknown as readonly Omit<Row, "found" | "firstThree">[];
  const worlds = [...new Set(rows.map((r) => r.world))];
  const rates = worlds
    .map((world) => ({ world, rate: pooled(of(rows, world), 2) }))
    .sort((a, b) => a.rate - b.rate);
  const [low, high] = [rates[0]!, rates.at(-1)!];
  const open = worlds.map((world) => openShare(of(rows, world)));
  return [
    `${3 * Number(data["nurseriesOfTen"])} nurseries of ten a kind, alone and in tens`,
    `${pooled(rows, 2).toFixed(1)} came for 2 asked (${low.rate.toFixed(1)} in "${low.world}", ${high.rate.toFixed(1)} in "${high.world}")`,
    `a flag is open on ${ends(open, 1)} % of healthy days`,
  ];
}

function openShare(rows: readonly { readonly weeks: number; readonly openDaysPct: number }[]) {
  const weeks = rows.reduce((s, r) => s + r.weeks, 0);
  return rows.reduce((s, r) => s + r.openDaysPct * r.weeks, 0) / weeks;
}

const count = (n: number) => (n === 9 ? "nine" : String(n));

/** What README says of the hard kind by the rules of today, and of what could be found in it at all. */
export function hardKindWords(): { readonly found: string[]; readonly reachable: string[] } {
  const rows = benchResult("early-hard").data["rows"] as unknown as readonly Row[];
  const one = (animals: number, before: string) => {
    const row = rows.find((r) => r.animals === animals && r.before === before)!;
    return pct(halved(row));
  };
  const affected = rows.flatMap((r) => r.found["halved"]?.n ?? []);
  const slight = rows.flatMap((r) => r.found["slight"]?.share ?? []);
  const reachable = benchResult("early-reachable").data;
  const of = (knows: string, what: "halvedBy14" | "slightBy30") =>
    ends(
      (reachable["rows"] as unknown as readonly Reachable[]).flatMap((r) =>
        r.world === "hard" && r.knows === knows ? [100 * r[what]] : [],
      ),
    );
  const short = (
    reachable["shortFromTheFirst"] as unknown as readonly {
      readonly world: string;
      readonly knowsKindOf: string;
      readonly shortNamedBy21: number;
    }[]
  ).filter((r) => r.world === "hard");
  const named = (of: string) => pct(short.find((r) => r.knowsKindOf === of)!.shortNamedBy21);
  return {
    found: [
      `measured again (\`npm run bench early hard\`, ${ends(affected)} affected pups a row): alone ${one(1, "prior file")} of 100 halved gains are found with prior files, ${one(1, "two seasons")} after two seasons of one's own and ${one(1, "nothing")} with nothing known; with prior files ${one(2, "prior file")}, ${one(3, "prior file")}, ${one(5, "prior file")} and ${one(10, "prior file")} in groups of two, three, five and ten, ${one(10, "nothing")} in tens without; a gain 15 % lower in ${ends(slight.map((x) => 100 * x))}`,
    ],
    reachable: [
      `finds ${of("this nursery", "halvedBy14")} of 100 halved gains there and ${of("this nursery", "slightBy30")} of 100 gains 15 % lower; one who knows how nurseries of the kind differ ${of("its kind", "halvedBy14")} and ${of("its kind", "slightBy30")}`,
      `names ${named("its own world")} of 100 by day 21 (${named("the world for calibrating")} from files of another kind)`,
    ],
  };
}

interface Reachable {
  readonly world: string;
  readonly knows: string;
  readonly halvedBy14: number;
  readonly slightBy30: number;
}
