import type { StudyAnalysis } from "../../analysis/study-analysis.js";
import { noticeText } from "../../core/catalogue.js";
import type { Result } from "../../core/result.js";
import { screenWording } from "../../units/format.js";
import { formatDate, wordedDate } from "../../units/format-date.js";
import { formatNumber } from "../../units/format-number.js";
import { capital } from "../section/capital.js";
import { curveWords } from "../section/curve-words.js";
import { fieldWords } from "../section/rows-table.js";
import { say } from "../section/say.js";
import { list, type Section, section, table, text } from "../section/section.js";

/** What may be asked of an analysis, in words. */
const asked: Readonly<Record<string, string>> = {
  onDay: "Day looked at",
  gainDays: "Days over which gain is taken",
  conversionDays: "Days over which conversion is taken",
  curves: "Curves fitted",
  energy: "Kilocalories of a diet",
  earlierSeasons: "Earlier seasons serve as contemporaries",
};

/** How an analysis was made: day, options, what was left out, the files read and their checksums. */
export function methodsSection(result: Result<"analyse", StudyAnalysis>): Section {
  const { value, method, basis, notices } = result;
  const wording = screenWording(value.settings.zone);
  const options = Object.entries(method.options).map(
    ([name, option]) => `${asked[name] ?? capital(fieldWords(name))}: ${optionText(option, name)}`,
  );
  const overrides = Object.entries(value.settings.speciesOverrides).map(
    ([species, changed]) => `${species}: ${JSON.stringify(changed)}`,
  );
  return section("How it was computed", [
    text(
      `${basis.used} ${basis.of} up to the end of ${formatDate(value.onDay)}, times in ${value.settings.zone}, feeding days from ${String(value.settings.feedingDayStartHour).padStart(2, "0")}:00.`,
    ),
    list([
      ...basis.leftOut.map((each) => `${each.count} left out: ${each.reason}.`),
      ...options.filter((line) => !line.includes("[object")),
    ]),
    list([
      say("method-day-mass"),
      say("method-gain"),
      say("method-conversion"),
      say("method-curves"),
      say("method-shares"),
    ]),
    list(notices.map((n) => noticeText(n, wording))),
    ...(overrides.length === 0
      ? []
      : [
          text("Species profiles as changed by the user, in place of our defaults:"),
          list(overrides),
        ]),
    ...(value.series.notices.length === 0
      ? []
      : [
          text("Decisions about the records:"),
          list(value.series.notices.map((n) => noticeText(n, wording))),
        ]),
    table(
      "inputs",
      "The files read.",
      [{ title: "File" }, { title: "Bytes", align: "number", digits: 12 }, { title: "SHA-256" }],
      value.records.inputs.map((f) => [f.path, f.bytes, f.sha256]),
      "The study was not read from files.",
    ),
  ]);
}

/** An option as a reader says it: a day as a date, yes and no, a list with commas. */
function optionText(option: unknown, of: string): string {
  if (Array.isArray(option)) return option.map((each) => optionText(each, of)).join(", ");
  if (of === "curves") return curveWords(String(option));
  if (typeof option === "boolean") return option ? "yes" : "no";
  return typeof option === "number" ? formatNumber(option) : wordedDate(String(option));
}
