import { describe, expect, it } from "vitest";
import { localText } from "../../../src/units/format-date.js";
import { makeWorkbook } from "../make-workbook.js";
import { study } from "../small-study.js";
import { type Agreed, agreedStudy, fed, steps, twoAnimals, weighed } from "./agree.js";

/*
 * A page that is turned in the morning: what is written after midnight stands
 * under the evening's date. What is meant is known here from how the page is
 * written, never from what the library makes of it.
 */
const layout = "night under the evening's date";
const date = (day: number) => `2025-03-${String(day).padStart(2, "0")}`;

interface Entry {
  readonly id: string;
  /** The day of March whose page it stands on. */
  readonly page: number;
  readonly clock: string;
}

const pages = (id: string, days: readonly number[], clocks: readonly string[]): Entry[] =>
  days.flatMap((page) => clocks.map((clock) => ({ id, page, clock })));
const inPages = (...lists: readonly Entry[][]) =>
  lists.flat().sort((a, b) => a.page - b.page || order(a) - order(b));
const order = ({ clock }: Entry) => (Number(clock.slice(0, 2)) + 18) % 24;
const meant = ({ page, clock }: Entry) => `${date(clock < "06:00" ? page + 1 : page)} ${clock}`;
const days = (from: number, to: number) =>
  Array.from({ length: to - from + 1 }, (_, i) => from + i);

const byDay = ["07:00", "11:00", "15:00", "19:00", "23:00"];
const roundTheClock = ["06:00", "09:00", "12:00", "15:00", "18:00", "21:00", "00:05", "03:02"];
const scale = "animal_id,at,mass_g\nP1,2025-03-05 07:00,2350\n";

/** Feeds of 60 g as the pages say them, in a writing of one's own. */
const feeds = (entries: readonly Entry[], write = (e: Entry) => `${date(e.page)} ${e.clock}`) =>
  `animal_id,at,offered_g\n${entries.map((e) => `${e.id},${write(e)},60`).join("\n")}\n`;
const feedsMeant = (entries: readonly Entry[]) =>
  entries.map((e) => `${e.id} ${meant(e)} 60 ?`).sort();
const read = async (text: string, more: object = {}): Promise<Agreed> =>
  await agreedStudy({ "weighings.csv": scale, "feeds.csv": text }, more);
const plain = (text: string, more: object = {}) =>
  study({ "animals.csv": twoAnimals, "weighings.csv": scale, "feeds.csv": text }, more);
const codes = (of: ReturnType<typeof plain>) => of.setAside.map((r) => r.reason.code);

describe("one animal fed at night among many that are not", () => {
  const many = Array.from({ length: 6 }, (_, i) => pages(`S${i}`, days(5, 14), byDay));
  const entries = inPages(...many, pages("P1", days(5, 14), roundTheClock));
  it("is asked about, proposed and read", async () => {
    const text = feeds(entries);
    expect(codes(plain(text))).toEqual(Array(20).fill("records-night-date-doubtful"));
    const a = await read(text);
    expect(steps(a)).toContain(layout);
    expect(fed(a.study)).toEqual(feedsMeant(entries));
  });
  it.each([
    ["05.03.2025 00:05", (e: Entry) => `${date(e.page).split("-").reverse().join(".")} ${e.clock}`],
    ["Wed 5 March 2025", (e: Entry) => `${weekday(e.page)} ${e.page} March 2025 ${e.clock}`],
    ["am and pm", (e: Entry) => `${date(e.page)} ${half(e.clock)}`],
    ["a stamp with its offset", (e: Entry) => `${date(e.page)}T${e.clock}:00+01:00`],
    ["0005", (e: Entry) => `${date(e.page)} ${e.clock.replace(":", "")}`],
  ])("whatever the dates look like: %s", async (_, write) => {
    const text = feeds(entries, write);
    expect(codes(plain(text, { date_style: "day-month-year" }))).toHaveLength(20);
    const a = await read(text, { date_style: "day-month-year" });
    expect(fed(a.study)).toEqual(feedsMeant(entries));
  });
  it("comes late in a long season, after two thousand rows of others", async () => {
    const late = inPages(
      ...many.map((_, i) => pages(`S${i}`, days(1, 30), [...byDay, "08:00", "09:00", "10:00"])),
      ...many.map((_, i) => pages(`T${i}`, days(1, 30), byDay)),
      pages("P1", days(28, 29), roundTheClock),
    );
    expect(late.length).toBeGreaterThan(2300);
    const a = await read(feeds(late));
    expect(fed(a.study)).toEqual(feedsMeant(late));
  });
  it("stands on a sheet of its own, in a workbook", async () => {
    const own = inPages(pages("P1", days(5, 14), roundTheClock), pages("P2", days(5, 14), byDay));
    const sheet = (id: string) => ({
      rows: [
        ["Date", "Time", "Offered (g)"],
        ...own.filter((e) => e.id === id).map((e) => [date(e.page), e.clock, 60]),
      ],
    });
    const a = await agreedStudy({
      "weighings.csv": scale,
      "feeds.xlsx": makeWorkbook({ P1: sheet("P1"), P2: sheet("P2") }),
    });
    expect(fed(a.study)).toEqual(feedsMeant(own));
  });
  it("is seen on pages that begin with the newest day", async () => {
    const a = await read(feeds([...entries].reverse()));
    expect(fed(a.study)).toEqual(feedsMeant(entries));
  });
});

describe("a single night", () => {
  it("among days without one is asked about, proposed and read", async () => {
    const entries = inPages(
      pages("P1", [5, 6, 8, 9], byDay),
      pages("P1", [7], roundTheClock),
      pages("P2", days(5, 9), byDay),
    );
    expect(codes(plain(feeds(entries)))).toHaveLength(2);
    const a = await read(feeds(entries));
    expect(fed(a.study)).toEqual(feedsMeant(entries));
  });
  it("of an animal that arrived in the evening, or is fed every eight hours", async () => {
    const entries = inPages(
      pages("P1", [5], ["20:00", "23:00", "02:00"]),
      pages("P2", days(5, 8), ["08:00", "16:00", "00:00"]),
    );
    const a = await read(feeds(entries));
    expect(fed(a.study)).toEqual(feedsMeant(entries));
  });
  it("of one whose other nights stand under their own date is asked about by its row", async () => {
    // The page of the 8th is not begun at midnight: 23:00 is followed by 00:05 of the 7th.
    const own = ["00:05", "03:02", "06:00", "09:00", "12:00", "15:00", "18:00", "21:00"];
    const rows = days(5, 12).flatMap((page) => {
      const clocks = page === 8 ? own.slice(1) : page === 7 ? [...own, "00:07"] : own;
      return clocks.map((clock) => ({ id: "P1", page, clock }));
    });
    const s = plain(feeds(rows));
    expect(s.setAside.map((r) => r.raw)).toEqual([["P1", `${date(7)} 00:07`, "60"]]);
    const a = await read(feeds(rows));
    expect(steps(a)).not.toContain(layout);
    expect(codes(a.study)).toEqual(["records-night-date-doubtful"]);
  });
});

it("pages on which feeds were added later are read all the same", async () => {
  const entries = days(5, 12).flatMap((page) => {
    const day = pages("P1", [page], roundTheClock);
    return [...day.slice(0, 2), ...day.slice(3, 5), day[2]!, ...day.slice(5)];
  });
  expect(fed((await read(feeds(entries))).study)).toEqual(feedsMeant(entries));
});

describe("what stands otherwise than the rest of its file", () => {
  const usual = [
    ...pages("P1", days(5, 15), roundTheClock),
    ...pages("P2", days(5, 15), byDay),
  ] as const;
  it("above its date's day, it is asked about after the proposal was accepted", async () => {
    const entries = inPages([...usual]);
    const at = entries.findIndex((e) => e.id === "P1" && e.page === 9);
    entries.splice(at, 0, { id: "P1", page: 9, clock: "00:20" });
    const a = await read(feeds(entries));
    expect(codes(a.study)).toEqual(["records-night-date"]);
    expect(fed(a.study)).toEqual(feedsMeant(entries.filter((e) => e.clock !== "00:20")));
  });
  it("where one animal's nights stand this way and another's that, rows are asked about", async () => {
    const own = ["00:05", "03:02", "06:00", "12:00", "18:00", "21:00"];
    const text = feeds([
      ...pages("P1", days(5, 9), roundTheClock),
      ...pages("P2", days(5, 9), own),
    ]);
    const a = await read(text);
    expect(steps(a)).not.toContain(layout);
    expect(a.study.setAside.map((r) => r.raw[0])).toEqual(Array(10).fill("P1"));
    expect(fed(a.study).filter((row) => row.startsWith("P2"))).toHaveLength(30);
  });
});

describe("the same habit elsewhere", () => {
  it("in weighings by night", async () => {
    const entries = inPages(
      pages("P1", days(5, 9), ["06:30", "18:30", "02:00"]),
      pages("P2", days(5, 9), ["06:40"]),
    );
    const text = `animal_id,at,mass_g\n${entries.map((e, i) => `${e.id},${date(e.page)} ${e.clock},${2300 + i}`).join("\n")}\n`;
    const a = await agreedStudy({ "weighings.csv": text });
    expect(weighed(a.study)).toEqual(
      entries.map((e, i) => `${e.id} ${meant(e)} ${2300 + i}`).sort(),
    );
  });
  it("in observations of several kinds", async () => {
    const looks: readonly (readonly [string, string, string])[] = [
      ["08:00", "temperature", "37.6"],
      ["18:00", "vomit", "none"],
      ["22:00", "temperature", "37.5"],
      ["02:00", "temperature", "36.9"],
    ];
    const rows = days(5, 9).flatMap((page) =>
      looks.map(([clock, kind, value]) => ({ id: "P1", page, clock, kind, value })),
    );
    const text = `animal_id,at,kind,value\n${rows.map((r) => `P1,${date(r.page)} ${r.clock},${r.kind},${r.value}`).join("\n")}\n`;
    const a = await agreedStudy({ "weighings.csv": scale, "observations.csv": text });
    const seen = a.study.tables.observations.map(
      (o) => `${localText(o.at, a.study.settings.zone)} ${o.kind}`,
    );
    expect(seen.sort()).toEqual(rows.map((r) => `${meant(r)} ${r.kind}`).sort());
  });
  it("where no order tells, in a study that has it, each row is asked about", () => {
    const text = feeds(pages("P1", days(5, 9), roundTheClock));
    const looks = "animal_id,at,kind,value\nP1,2025-03-07 02:00,temperature,37.1\n";
    const files = { "animals.csv": twoAnimals, "weighings.csv": scale, "observations.csv": looks };
    const s = study({ ...files, "feeds.csv": text });
    const asked = s.notices.filter((n) => n.code === "records-night-date-elsewhere");
    expect(asked.map((n) => [n.place?.file, n.place?.line])).toEqual([["observations.csv", 2]]);
    const told = study(
      { ...files, "feeds.csv": text },
      { layouts: { "observations.csv": [{ layout: "times as written" }] } },
    );
    expect(told.notices.map((n) => n.code)).not.toContain("records-night-date-elsewhere");
  });
  it("with a clock of twelve hours: pages that may be a night are asked about", async () => {
    const face = (clock: string) => `${Number(clock.slice(0, 2)) % 12 || 12}${clock.slice(2)}`;
    const entries = inPages(
      pages("P1", [5], ["18:00", "21:00", "00:05", "03:02"]),
      pages("P1", days(6, 9), roundTheClock),
      pages("P2", days(5, 9), ["09:00", "12:00", "15:00", "18:00", "21:00"]),
    );
    const a = await read(feeds(entries, (e) => `${date(e.page)} ${face(e.clock)}`));
    const right = new Set(feedsMeant(entries));
    expect(fed(a.study).filter((row) => !right.has(row))).toEqual([]);
    expect(fed(a.study)).toHaveLength(25);
  });
});

describe("ordinary sheets raise nothing", () => {
  const own = ["00:05", "03:02", "06:00", "09:00", "12:00", "15:00", "18:00", "21:00"];
  const ordinary = (id: string) => pages(id, days(5, 14), own);
  const late = (rows: readonly Entry[], page: number, clock: string) => {
    // Forgotten, and written at the end of its page.
    const without = rows.filter((e) => e.page !== page || e.clock !== clock);
    const end = without.filter((e) => e.page <= page).length;
    return [...without.slice(0, end), { id: "P1", page, clock }, ...without.slice(end)];
  };
  it.each([
    ["in the order of time", ordinary("P1")],
    ["animal by animal", [...ordinary("P1"), ...ordinary("P2")]],
    ["newest first", [...ordinary("P1")].reverse()],
    ["a feed of the night written at the end of its page", late(ordinary("P1"), 8, "03:02")],
    ["one of the morning written at the end of its page", late(ordinary("P1"), 8, "06:00")],
    [
      "day animals, a morning feed added in the evening",
      late(pages("P1", days(5, 9), byDay), 7, "07:00"),
    ],
    ["in no order", ordinary("P1").map((_, i, all) => all[(i * 37) % all.length]!)],
  ])("%s", async (_, rows) => {
    const s = plain(feeds(rows));
    expect(codes(s)).toEqual([]);
    expect(s.tables.feeds).toHaveLength(rows.length);
    expect(steps(await read(feeds(rows)))).not.toContain(layout);
  });
  it("signs in the order of kinds: the evening's temperature above the morning's urine", () => {
    const looks = [
      "temperature,19:30",
      "urine,06:53",
      "urine,18:57",
      "stool,07:21",
      "stool,19:21",
      "behaviour,10:52",
      "suckle,13:07",
    ];
    const rows = days(5, 12).flatMap((page) =>
      looks.map((look) => {
        const [kind, clock] = look.split(",");
        return `P1,${date(page)} ${clock},${kind},${kind === "temperature" ? 37.5 : "normal"}`;
      }),
    );
    // Written down at the end of all, days later.
    rows.push(`P1,${date(7)} 06:10,behaviour,cannot be roused`);
    const text = `animal_id,at,kind,value\n${rows.join("\n")}\n`;
    const s = study({
      "animals.csv": twoAnimals,
      "weighings.csv": scale,
      "observations.csv": text,
    });
    expect(codes(s)).toEqual([]);
    expect(s.tables.observations).toHaveLength(rows.length);
  });
  it("feeds in the order of diets, one of which is given first of all", () => {
    const clocks = ["formula 09:30", "formula 15:00", "formula 22:00", "fish 07:00", "fish 12:00"];
    const rows = days(5, 12).flatMap((page) =>
      clocks.map((each) => `P1,${date(page)} ${each.split(" ")[1]},${each.split(" ")[0]},60,0`),
    );
    const s = study({
      "animals.csv": twoAnimals,
      "weighings.csv": scale,
      "feeds.csv": `animal_id,at,diet_id,offered_g,refused_g\n${rows.join("\n")}\n`,
    });
    expect(s.notices.map((n) => n.code).filter((code) => code.includes("night"))).toEqual([]);
    expect(s.setAside.map((r) => r.reason.code)).not.toContain("records-night-date-doubtful");
  });
  it("a sign of which only the day is in doubt is asked about and stays", () => {
    // Small hours under their own date, and once behind the evening.
    const clocks = (page: number) =>
      page === 8 ? ["08:05", "20:10", "03:10"] : page === 9 ? ["08:05"] : ["03:10", "08:05"];
    const rows = days(5, 12).flatMap((page) =>
      clocks(page).map((clock) => `P1,${date(page)} ${clock},stool,bloody`),
    );
    const text = `animal_id,at,kind,value\n${rows.join("\n")}\n`;
    const s = study({
      "animals.csv": twoAnimals,
      "weighings.csv": scale,
      "observations.csv": text,
    });
    const asked = s.notices.filter((n) => n.code === "records-night-date-doubtful");
    expect(asked).toHaveLength(1);
    expect(s.tables.observations).toHaveLength(rows.length);
  });
  it("kinds of signs in an order of their own on each day", () => {
    const looks = ["temperature,08:10", "temperature,20:30", "stool,08:05", "vomit,18:00"];
    const rows = days(5, 12).flatMap((page) =>
      looks.map((look) => {
        const [kind, clock] = look.split(",");
        return `P1,${date(page)} ${clock},${kind},${kind === "temperature" ? 37.5 : "none"}`;
      }),
    );
    const s = study({
      "animals.csv": twoAnimals,
      "weighings.csv": scale,
      "observations.csv": `animal_id,at,kind,value\n${rows.join("\n")}\n`,
    });
    expect(codes(s)).toEqual([]);
    expect(s.tables.observations).toHaveLength(32);
  });
});

const weekday = (page: number) =>
  new Intl.DateTimeFormat("en", { weekday: "short", timeZone: "UTC" }).format(
    Date.UTC(2025, 2, page),
  );
const half = (clock: string) => {
  const hour = Number(clock.slice(0, 2));
  return `${hour % 12 || 12}${clock.slice(2)} ${hour < 12 ? "am" : "pm"}`;
};
