import type { Draft, DraftTable, Habit, Style } from "../draft.js";

const text = (name: string, change: (style: Style) => void, settles: readonly string[]): Habit => ({
  name: `file: ${name}`,
  reads: "without asking",
  settles,
  write: ({ style }) => change(style),
});

const layout = (
  name: string,
  kind: DraftTable["layout"],
  settles: readonly string[],
  inBook: boolean,
): Habit => ({
  name: `weighings: ${name}`,
  reads: "without asking",
  settles: ["layout", ...settles, ...(inBook ? bookSettles : [])],
  write: (draft: Draft) => {
    draft.tables.get("weighings")!.layout = kind;
    // The sheet of days holds body masses; there is no room for a tare.
    if (kind === "days across") draft.settings["blank_tare_is_zero"] = true;
    if (inBook) draft.style.workbook ??= "dates";
  },
});

const bookSettles = ["file kind", "delimiter", "encoding", "line ends", "date", "clock", "join"];

export const fileHabits: readonly Habit[] = [
  text("semicolons", (s) => void (s.delimiter = ";"), ["delimiter", "file kind"]),
  text("tabs", (s) => void (s.delimiter = "\t"), ["delimiter", "file kind"]),
  text("bars", (s) => void (s.delimiter = "|"), ["delimiter", "file kind"]),
  text("every cell in quotes", (s) => void (s.quoteAll = true), ["quotes", "file kind"]),
  text("carriage returns at line ends", (s) => void (s.newline = "\r\n"), [
    "line ends",
    "file kind",
  ]),
  text("UTF-8 with its mark", (s) => void (s.encoding = "bom"), ["encoding", "file kind"]),
  text("UTF-16 with its mark", (s) => void (s.encoding = "utf16le"), ["encoding", "file kind"]),
  text("letters of one byte", (s) => void (s.encoding = "latin1"), ["encoding", "file kind"]),
  text("one workbook, times as dates", (s) => void (s.workbook = "dates"), bookSettles),
  text("one workbook, times as texts", (s) => void (s.workbook = "texts"), [
    "file kind",
    "delimiter",
    "encoding",
    "line ends",
  ]),
  text("one workbook that counts from 1904", (s) => void (s.workbook = "1904"), bookSettles),
  {
    name: "file: another name for the weighings",
    reads: "without asking",
    settles: ["file name"],
    write: (draft) => {
      draft.tables.get("weighings")!.file = "scale book";
    },
  },
  layout("a file for each half of the days", "by month", ["file name"], false),
  layout(
    "a sheet for each animal",
    "sheet per animal",
    ["file name", "id", "above", "header words", "mass header"],
    true,
  ),
  layout(
    "days across and animals down",
    "days across",
    [
      "id",
      "order",
      "pages",
      "above",
      "extra",
      "columns",
      "fewer",
      "mass",
      "mass header",
      "tare",
      "words",
      "header words",
      "twice",
    ],
    true,
  ),
  layout("blocks side by side", "side by side", ["id", "order", "pages", "above", "twice"], true),
  layout("ids merged over their rows", "merged ids", ["id", "order", "pages"], true),
];
