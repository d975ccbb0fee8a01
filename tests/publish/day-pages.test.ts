import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { askHandOver } from "../../src/analysis/ask-hand-over.js";
import { leaveOutPeople } from "../../src/analysis/leave-out-people.js";
import { feedingSheet, handOverPage } from "../../src/publish/write-hand-over.js";
import { parseStudy } from "../../src/records/parse-study.js";

/** Three calm invented pups over three days: weighed each morning, fed every three hours. */
const days = ["2025-05-08", "2025-05-09", "2025-05-10"];
const hours = ["01", "04", "07", "10", "13", "16", "19", "22"];
const ids = ["P1", "P2", "P3"];
const lines = (head: string, rows: readonly string[]) => `${[head, ...rows].join("\n")}\n`;
const base = {
  "study.json": JSON.stringify({
    title: "Three pups",
    species: ["sea otter"],
    zone: "Europe/Berlin",
    feeding_day_start_hour: 6,
    blank_refusal_is_none: true,
    blank_tare_is_zero: true,
  }),
  "animals.csv": lines(
    "animal_id,name,species,sex,birth_date_earliest,birth_date_latest,birth_date_basis,admitted_at,season,outcome,outcome_date",
    [
      "P1,Bramble,sea otter,female,2025-03-20,2025-03-20,observed,2025-03-24 14:00,2025,,",
      "P2,Thistle,sea otter,male,2025-03-18,2025-03-18,observed,2025-03-25 09:30,2025,,",
      "P3,Sorrel,sea otter,male,2025-03-19,2025-03-19,observed,2025-03-26 09:30,2025,,",
    ],
  ),
  "weighings.csv": lines(
    "animal_id,at,mass_g,tare_g,coat,meal,notes",
    days.flatMap((day, i) =>
      ids.map((id, k) => `${id},${day} 06:30,${4300 + 100 * k + 45 * i},0,dry,before,`),
    ),
  ),
  "feeds.csv": lines(
    "animal_id,at,diet_id,offered_g,refused_g,notes",
    days.flatMap((day) =>
      hours.flatMap((h) => ids.map((id) => `${id},${day} ${h}:00,milk,140,0,`)),
    ),
  ),
  "diets.csv": "diet_id,name,kind,energy_kcal_per_g\nmilk,Milk,formula,1.06\n",
} as const;
type Files = Readonly<Record<keyof typeof base, string>>;

const swap = (file: keyof typeof base, from: string, to: string): Files => {
  expect(base[file].split(from)).toHaveLength(2);
  return { ...base, [file]: base[file].replace(from, () => to) };
};
const add = (file: keyof typeof base, ...rows: string[]): Files => ({
  ...base,
  [file]: `${base[file]}${rows.join("\n")}\n`,
});

interface Said {
  readonly handOver: (id: string) => string;
  readonly sheet: (id: string) => string;
  readonly head: readonly [string, string];
  readonly day: string;
  readonly all: string;
}

async function pages(
  files: Readonly<Record<string, string>>,
  more: { onDay?: string; now?: number; withoutPeople?: boolean } = {},
): Promise<Said> {
  const { withoutPeople, ...options } = more;
  const inputs = Object.entries(files).map(([path, text]) => ({ path, bytes: Buffer.from(text) }));
  const study = parseStudy(inputs);
  const { value } = await askHandOver(withoutPeople ? leaveOutPeople(study) : study, options);
  const handOver = handOverPage(value, []);
  const sheet = feedingSheet(value, []);
  return {
    handOver: (id) => block(handOver, id),
    sheet: (id) => block(sheet, id),
    head: [head(handOver), head(sheet)],
    day: value.analysis.value.onDay,
    all: `${plain(handOver)} ${plain(sheet)}`,
  };
}

const body = (html: string) => html.slice(html.indexOf("<body"));
const head = (html: string) => plain(body(html).split(/<nav|<section/)[0]!);

/** The section whose heading names the animal; empty where none does. */
function block(html: string, id: string): string {
  const found = body(html)
    .split(/(?=<section\b)/)
    .filter((part) =>
      /<h2[^>]*>([\s\S]*?)<\/h2>/.exec(part)?.[1]?.match(new RegExp(`(?<![\\w-])${id}(?![\\w-])`)),
    );
  return plain(found.join(" "));
}

function plain(html: string): string {
  return html
    .replace(/<(script|style|svg)\b[\s\S]*?<\/\1>/g, " ")
    .replace(/<[^>]*>/g, " ")
    .replace(/&#(\d+);/g, (_, code: string) => String.fromCodePoint(Number(code)))
    .replace(/\s+/g, " ");
}

const feed = "P1,2025-05-10 16:00,milk,140,0,";
const weighing = "P1,2025-05-10 06:30,4390,0,dry,before,";
const p1 = base["animals.csv"].split("\n")[1]!;

describe("what could not be read in the last two days", () => {
  /** Each plant, what is read word for word in the block of P1, and on which pages. */
  const plants: readonly (readonly [string, Files, RegExp])[] = [
    [
      "an error cell in a tare",
      swap("weighings.csv", weighing, weighing.replace(",0,dry", ",#REF!,dry")),
      /tare "#REF!"/,
    ],
    [
      "an error cell in a mass",
      swap("weighings.csv", weighing, weighing.replace("4390", "#VALUE!")),
      /P1, 2025-05-10 06:30, #VALUE!, 0, dry, before/,
    ],
    [
      "an error cell in a refusal",
      swap("feeds.csv", feed, feed.replace("140,0", "140,#N/A")),
      /refused "#N\/A"/,
    ],
    [
      "a refusal in words",
      swap("feeds.csv", feed, feed.replace("140,0", "140,about a third")),
      /refused "about a third"/,
    ],
    [
      "an amount in words",
      swap("feeds.csv", feed, feed.replace("140,0", "a little,0")),
      /P1, 2025-05-10 16:00, milk, a little, 0/,
    ],
    [
      "letters among digits",
      swap("feeds.csv", feed, feed.replace("140,0", "14O,0")),
      /is 140 meant\?/,
    ],
    [
      "a remark behind a number",
      swap("feeds.csv", feed, feed.replace("140,0", "140 (bottle leaked),0")),
      /140 \(bottle leaked\)/,
    ],
    [
      "a time that is none",
      swap("feeds.csv", feed, feed.replace("16:00", "16:75")),
      /P1, 2025-05-10 16:75, milk/,
    ],
    [
      "a row for two animals",
      add("weighings.csv", "P1/P2,2025-05-10 18:00,9600,0,dry,before,"),
      /P1\/P2, 2025-05-10 18:00, 9600/,
    ],
    [
      "a misspelt id",
      add("weighings.csv", "Pl,2025-05-10 18:00,4400,0,dry,before,"),
      /Pl, 2025-05-10 18:00, 4400.*Is P1 meant\?/,
    ],
    [
      "a birth date in words",
      swap("animals.csv", p1, p1.replaceAll("2025-03-20", "early spring")),
      /birth date earliest "early spring"/,
    ],
    [
      "an outcome in words",
      swap("animals.csv", p1, p1.replace("2025,,", "2025,gone home,2025-05-09")),
      /outcome "gone home"/,
    ],
    [
      "an outcome date in words",
      swap("animals.csv", p1, p1.replace("2025,,", "2025,in care,soon")),
      /outcome date "soon"/,
    ],
    [
      "an arrival in words",
      swap("animals.csv", p1, p1.replace("2025-03-24 14:00", "end of March")),
      /admitted at "end of March"/,
    ],
    [
      "a weighing of the year 2062",
      add("weighings.csv", "P1,2062-05-10 06:30,4390,0,dry,before,"),
      /No other row lies near this date \(10 May 2062 06:30\)/,
    ],
    [
      "an arrival after all its rows",
      swap("animals.csv", p1, p1.replace("2025-03-24 14:00", "2026-03-24 14:00")),
      /admitted at "2026-03-24 14:00"/,
    ],
    [
      "fed after it left",
      swap("animals.csv", p1, p1.replace("2025,,", "2025,released,2025-04-30")),
      /left on 30 Apr \(released\), but it is fed or weighed since/,
    ],
    [
      "fed the day after it left",
      swap("animals.csv", p1, p1.replace("2025,,", "2025,released,2025-05-09")),
      /left on 9 May \(released\), but it is fed or weighed since/,
    ],
    [
      "an outcome without its day",
      swap("animals.csv", p1, p1.replace("2025,,", "2025,released,")),
      /The outcome "released" has no date/,
    ],
    [
      "the day of an outcome without the outcome",
      swap("animals.csv", p1, p1.replace("2025,,", "2025,,2025-05-02")),
      /A date of the outcome \(2 May\) stands here and no outcome/,
    ],
    [
      "a row for both by their call names",
      add("feeds.csv", '"Bramble, Thistle",2025-05-10 18:00,milk,280,0,'),
      /Bramble, Thistle, 2025-05-10 18:00, milk, 280, 0/,
    ],
    [
      "a row for all of them",
      add("feeds.csv", "all,2025-05-10 18:00,milk,420,0,"),
      /"all, 2025-05-10 18:00, milk, 420, 0, ".*P1, P2 and P3/,
    ],
    [
      "fed after it died",
      swap("animals.csv", p1, p1.replace("2025,,", "2025,died,2025-04-30")),
      /left on 30 Apr \(died\), but it is fed or weighed since/,
    ],
    [
      "an animal that came back",
      swap(
        "animals.csv",
        p1,
        `${p1.replace("2025,,", "2025,released,2025-05-01")}\n${p1.replace("2025-03-24 14:00", "2025-05-07 10:00")}`,
      ),
      /animal that came back/,
    ],
    [
      "an id used again",
      swap(
        "animals.csv",
        p1,
        `P1,Moss,sea otter,male,2024-03-20,2024-03-20,observed,2024-03-24 14:00,2024,died,2024-05-01\n${p1}`,
      ),
      /called P1 \(2024\) here/,
    ],
  ];
  it("is absent where all is well", async () => {
    const calm = await pages(base);
    for (const [, , words] of plants) expect(calm.all).not.toMatch(words);
    expect(calm.all).not.toContain("Ask whoever wrote it");
    for (const id of ids) {
      expect(calm.handOver(id)).not.toBe("");
      expect(calm.sheet(id)).not.toBe("");
    }
  });
  it.each(plants)(
    "%s is said in the animal's block, first of all, on both pages",
    async (_, files, words) => {
      const said = await pages(files);
      expect(said.day).toBe("2025-05-10");
      for (const text of [said.handOver("P1"), said.sheet("P1")]) {
        expect(text).toMatch(words);
        // Above the fold: before the first table.
        expect(text.search(words)).toBeLessThan(
          text.search(/Feeds of the last 24 hours|Given Time/),
        );
      }
      // Nobody is lost meanwhile, and nobody else is asked about but by a row for two.
      for (const id of ids) expect(said.handOver(id)).not.toBe("");
      if (!String(words).includes("P2 and P3"))
        expect(said.handOver("P3")).not.toContain("Ask whoever");
    },
  );
  it("is not said of what was written earlier", async () => {
    const early = feed.replace("05-10 16", "05-08 07");
    const said = await pages(swap("feeds.csv", early, early.replace("140,0", "a little,0")));
    expect(said.all).not.toContain("a little");
  });
  it("is said of an earlier day when that day is looked at, and nothing later is", async () => {
    const files = add("weighings.csv", "P1,2025-05-10 18:00,heavy,0,dry,before,");
    expect((await pages(files)).handOver("P1")).toContain("heavy");
    expect((await pages(files, { onDay: "2025-05-09" })).all).not.toContain("heavy");
  });
  it("is said of nobody on the page where nobody can be told", async () => {
    const said = await pages(
      add("weighings.csv", ",2025-05-10 18:00,4400,0,dry,before,found loose"),
    );
    expect(said.all).toContain("Written about nobody on this page");
    expect(said.all).toContain(", 2025-05-10 18:00, 4400, 0, dry, before, found loose");
  });
  it("names nobody where people are left out", async () => {
    const row = `P1,2025-05-10 18:00,heavy,0,dry,before,"asked Zzyzx"`;
    const files = add("weighings.csv", row, "P1,2025-05-10 18:05,4400,0,Zzyzx,before,");
    expect((await pages(files)).all).toContain("Zzyzx");
    const quiet = await pages(files, { withoutPeople: true });
    expect(quiet.all).not.toContain("Zzyzx");
    expect(quiet.handOver("P1")).toContain("weighings, line 11");
  });
});

describe("nobody is lost from the pages of the day", () => {
  it.each([
    [
      "fed and weighed, without a row in the animals table",
      add("feeds.csv", "P9,2025-05-10 18:00,milk,120,0,"),
      /P9 has records and no row in the animals table/,
    ],
    [
      "weighed only",
      add("weighings.csv", "P9,2025-05-10 18:00,4100,0,dry,before,"),
      /P9 has records and no row/,
    ],
    [
      "in the animals table only, without any date",
      add("animals.csv", "P9,Moss,sea otter,,,,,,,,"),
      /P9/,
    ],
    [
      "in the animals table only, arrived today",
      add("animals.csv", "P9,Moss,sea otter,,,,,2025-05-10 12:00,2025,,"),
      /P9/,
    ],
    [
      "with a row that cannot be cut into cells",
      add("animals.csv", 'P9,"Moss,sea otter,,,,,2025-05-10 12:00,2025,,'),
      /The row of P9 in the animals table could not be used/,
    ],
  ])("%s", async (_, files, words) => {
    const said = await pages(files);
    expect(said.handOver("P9")).toMatch(words);
    expect(said.sheet("P9")).toMatch(words);
    expect((await pages(base)).all).not.toContain("P9");
  });

  const id = fc.constantFrom("P1", "P2", "P9", "Q-17", "O24-02", "P1/P3", "Pl", "Moss");
  const junk = fc.constantFrom("60", "#REF!", "?", "", "a little", "-5", "1,250");
  it("every id written in the last two days stands on the hand-over, however spoilt its row", async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(
          fc.tuple(id, fc.constantFrom("2025-05-10 17:00", "2025-05-10 77:00", ""), junk, junk),
          { minLength: 1, maxLength: 5 },
        ),
        fc.array(fc.tuple(id, junk, junk), { maxLength: 2 }),
        async (fed, weighed) => {
          const files = {
            ...add(
              "feeds.csv",
              ...fed.map(([who, at, a, b]) => `${who},${at},milk,"${a}","${b}",`),
            ),
            "weighings.csv": `${base["weighings.csv"]}${weighed
              .map(
                ([who, mass, tare]) => `${who},2025-05-10 18:00,"${mass}","${tare}",dry,before,\n`,
              )
              .join("")}`,
          };
          const { all } = await pages(files);
          for (const [who] of [...fed, ...weighed]) expect(all).toContain(who);
        },
      ),
      { seed: 20261128, numRuns: 12 },
    );
  }, 60_000);
});

describe("the day itself", () => {
  it("beyond the records is said in the first line of both pages", async () => {
    const said = await pages(base, { onDay: "2031-01-01" });
    for (const first of said.head)
      expect(first).toMatch(
        /The records end at 10 May 2025 22:00: 1 Jan(?: 2031)? lies 2062 days beyond them/,
      );
    for (const first of (await pages(base)).head) expect(first).not.toContain("beyond");
  });
  it("is the clock's at most: rows dated later are counted in the first line", async () => {
    const files = add(
      "feeds.csv",
      "P1,2025-05-11 07:00,milk,140,,",
      "P1,2025-05-11 10:00,milk,140,,",
    );
    const now = Date.parse("2025-05-10T20:30Z");
    const said = await pages(files, { now });
    expect(said.day).toBe("2025-05-10");
    for (const first of said.head)
      expect(first).toMatch(
        /2 rows are dated after this computer's clock.*feeds.csv line 74 and feeds.csv line 75/,
      );
    expect(said.handOver("P1")).toContain("The 24 hours up to 10 May 2025 22:00");
    expect((await pages(files)).day).toBe("2025-05-11");
  });
});
