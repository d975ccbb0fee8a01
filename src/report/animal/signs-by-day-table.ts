import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import { asWritten } from "../../core/as-written.js";
import type { Sign } from "../../series/signs/sign.js";
import { addDays, feedingDayOf, feedingDaySpan } from "../../units/calendar.js";
import { animalLabel } from "../section/animal-label.js";
import { say } from "../section/say.js";
import { type Table, table } from "../section/section.js";
import { signText } from "../section/sign-text.js";
import { withTidy } from "../section/tidy-table.js";

const columns: readonly { readonly title: string; readonly kinds: readonly Sign["kind"][] }[] = [
  { title: "Temperature", kinds: ["temperature"] },
  { title: "Glucose", kinds: ["glucose"] },
  { title: "Behaviour, suckle, hydration", kinds: ["behaviour", "suckle", "hydration"] },
  { title: "Stool", kinds: ["stool"] },
  { title: "Urine", kinds: ["urine"] },
  { title: "Came up", kinds: ["vomit", "regurgitation"] },
  { title: "Bloat, blood, convulsion", kinds: ["bloat", "blood", "convulsion"] },
];

/**
 * The signs of the last days, one row a feeding day: how often, of what kind, and
 * word for word what could not be read. A blank cell: nothing was written.
 */
export function signsByDayTable(analysis: StudyAnalysis, animal: AnimalAnalysis, days = 14): Table {
  const { zone, feedingDayStartHour } = analysis.settings;
  const dayOf = (at: number) => feedingDayOf(at, zone, feedingDayStartHour);
  const { span } = animal.series;
  const last = span === null ? analysis.onDay : dayOf(Math.min(span.to, endOfDay(analysis)));
  const byDay = new Map<string, Sign[]>();
  for (const sign of animal.series.signs) {
    const day = dayOf(sign.at);
    if (day <= addDays(last, -days) || day > last) continue;
    byDay.set(day, [...(byDay.get(day) ?? []), sign]);
  }
  const ordered = [...byDay].sort(([a], [b]) => (a < b ? 1 : -1));
  const shown = table(
    "signs-by-day",
    say("report-signs-by-day", { animal: animalLabel(animal), days }),
    [{ title: "Feeding day" }, ...columns.map(({ title }) => ({ title }))],
    ordered.map(([day, signs]) => [
      day,
      ...columns.map(({ kinds }) => cellOf(signs.filter((s) => kinds.includes(s.kind)))),
    ]),
    say("report-signs-none"),
  );
  return withTidy(
    shown,
    [{ title: "Feeding day" }, { title: "Kind" }, { title: "Read as" }, { title: "Times" }],
    ordered.flatMap(([day, signs]) =>
      columns.flatMap(({ kinds }) =>
        kinds.flatMap((kind) =>
          [...countedTexts(signs.filter((s) => s.kind === kind))].map(([text, n]) => [
            day,
            kind,
            text,
            n,
          ]),
        ),
      ),
    ),
  );
}

function endOfDay(analysis: StudyAnalysis): number {
  const { zone, feedingDayStartHour } = analysis.settings;
  return feedingDaySpan(analysis.onDay, zone, feedingDayStartHour).to - 1;
}

const named = ["regurgitation", "suckle", "hydration", "bloat", "blood", "convulsion"];

/** Equal readings are counted; a doubtful one stands as it was written. */
function countedTexts(
  signs: readonly Sign[],
  nameOf: (sign: Sign) => string = () => "",
): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const sign of signs) {
    const asked = sign.question === null ? "" : ` ("${asWritten(sign.written)}")`;
    const text = `${nameOf(sign)}${signText(sign)}${asked}`;
    counts.set(text, (counts.get(text) ?? 0) + 1);
  }
  return counts;
}

function cellOf(signs: readonly Sign[]): string {
  const counts = countedTexts(signs, (s) => (named.includes(s.kind) ? `${s.kind}: ` : ""));
  return [...counts].map(([text, n]) => (n === 1 ? text : `${n} × ${text}`)).join("; ");
}
