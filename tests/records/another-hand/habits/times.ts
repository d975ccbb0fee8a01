import type { Draft, Habit } from "../draft.js";

const parts = (iso: string) => iso.split("-") as [string, string, string];
const months =
  "January February March April May June July August September October November December".split(
    " ",
  );

const dates = (
  name: string,
  date: (iso: string) => string,
  style?: "day-month-year" | "month-day-year",
): Habit => ({
  name: `dates: ${name}`,
  reads: "without asking",
  settles: ["date"],
  write: (draft) => {
    draft.style.date = date;
    if (style !== undefined) draft.settings["date_style"] = style;
  },
});

const clock = (
  name: string,
  change: (hhmm: string) => string,
  reads: Habit["reads"] = "without asking",
): Habit => ({
  name: `clock: ${name}`,
  reads,
  settles: ["clock"],
  write: (draft) => {
    draft.style.clock = change;
  },
});

const twelve = (hhmm: string) => `${Number(hhmm.slice(0, 2)) % 12 || 12}${hhmm.slice(2)}`;

/** Spreadsheet days since 30 December 1899. */
export const serialOf = (isoDate: string, hhmm: string) =>
  Date.parse(`${isoDate}T${hhmm}Z`) / 86_400_000 + 25_569;

/** The zone's offset from UTC at a local time, as "+02:00". */
function offsetOf(zone: string, date: string, hhmm: string): string {
  const format = new Intl.DateTimeFormat("en", { timeZone: zone, timeZoneName: "longOffset" });
  const near = (at: number) => format.format(at).split("GMT")[1] || "+00:00";
  const utc = Date.parse(`${date}T${hhmm}Z`);
  const first = near(utc);
  return near(Date.parse(`${date}T${hhmm}${first}`));
}

/** Night feeds of an evening under the evening's date, as on a page that is turned in the morning. */
function nightUnderEvening(draft: Draft): void {
  for (const row of draft.tables.get("feeds")!.rows) {
    const at = row.cells["at"]!;
    if (at.slice(11) >= "06:00" || at === "") continue;
    const before = new Date(Date.parse(`${at.slice(0, 10)}T00:00Z`) - 86_400_000);
    row.cells["at"] = `${before.toISOString().slice(0, 10)}${at.slice(10)}`;
  }
}

export const timeHabits: readonly Habit[] = [
  dates("05.05.2025, as study.json says", (d) => parts(d).reverse().join("."), "day-month-year"),
  dates("05.05.2025, and study.json does not say", (d) => parts(d).reverse().join(".")),
  dates(
    "5/5/25, as study.json says",
    (d) => {
      const [y, m, day] = parts(d);
      return `${Number(day)}/${Number(m)}/${y.slice(2)}`;
    },
    "day-month-year",
  ),
  dates(
    "05/31/2025, as study.json says",
    (d) => {
      const [y, m, day] = parts(d);
      return `${m}/${day}/${y}`;
    },
    "month-day-year",
  ),
  dates("5 May 2025", (d) => {
    const [y, m, day] = parts(d);
    return `${Number(day)} ${months[Number(m) - 1]} ${y}`;
  }),
  dates("5-May-25", (d) => {
    const [y, m, day] = parts(d);
    return `${Number(day)}-${months[Number(m) - 1]!.slice(0, 3)}-${y.slice(2)}`;
  }),
  dates("2025/05/05", (d) => d.replaceAll("-", "/")),
  clock("6:30 without a leading zero", (t) => t.replace(/^0/, "")),
  clock("06.30", (t) => t.replace(":", ".")),
  clock("06h30", (t) => t.replace(":", "h")),
  clock("0630", (t) => t.replace(":", "")),
  clock("with seconds", (t) => `${t}:00`),
  clock("6:30 am", (t) => `${twelve(t)} ${t < "12" ? "am" : "pm"}`),
  clock("6:30 p.m. without a blank", (t) => `${twelve(t)}${t < "12" ? "AM" : "PM"}`),
  clock("twelve hours without am and pm", twelve, "must ask"),
  {
    name: "times: ISO with T and the zone's offset",
    reads: "without asking",
    settles: ["date", "clock", "join"],
    write: (draft) => {
      const { zone } = draft.truth.settings;
      draft.style.join = (_, __, date, time) => `${date}T${time}:00${offsetOf(zone, date, time)}`;
    },
  },
  {
    name: "times: spreadsheet day numbers in the text",
    reads: "without asking",
    settles: ["date", "clock", "join", "file kind"],
    write: (draft) => {
      draft.style.join = (_, __, date, time) => serialOf(date, time).toFixed(6);
      draft.style.date = (date) => String(serialOf(date, "00:00"));
    },
  },
  {
    name: "times: the date and the clock in two columns",
    reads: "without asking",
    settles: ["join", "header words"],
    write: (draft) => {
      draft.style.split = true;
    },
  },
  {
    name: "times: a comma between date and clock",
    reads: "without asking",
    settles: ["join"],
    write: (draft) => {
      draft.style.join = (date, time) => `${date}, ${time}`;
    },
  },
  {
    name: "times: night feeds under the evening's date",
    reads: "without asking",
    settles: ["night", "order"],
    write: nightUnderEvening,
  },
];
