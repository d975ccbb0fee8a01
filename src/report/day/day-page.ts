import type { DayAnswer } from "../../analysis/ask-day.js";
import type { Chart } from "../../charts/chart.js";
import { formatDate } from "../../units/format-date.js";
import { count } from "../../units/format-number.js";
import { recordsTable } from "../records/records-table.js";
import { setAsideTable } from "../records/set-aside-table.js";
import { slipsTable } from "../records/slips-table.js";
import { withNamedAnimals } from "../section/animal-names.js";
import { withNamedDiets } from "../section/diet-names.js";
import type { Block, Table } from "../section/section.js";
import { conversionPicture } from "./conversion-picture.js";
import { conversionTable } from "./conversion-table.js";
import { flagsTable } from "./flags-table.js";
import { gainsPictures } from "./gains-picture.js";
import { gainsTable } from "./gains-table.js";

/** The parts of the day's page, in reading order; each can be shown by itself. */
export interface DayPage {
  readonly title: string;
  readonly records: readonly Table[];
  readonly slips: Table;
  readonly notices: Block;
  readonly gains: Table;
  /** One a species. */
  readonly gainCharts: readonly Chart[];
  readonly conversion: readonly (Chart | Table)[];
  readonly flags: readonly Block[];
}

/**
 * The day as parts to show.
 *
 * @example dayPage((await askDay(study)).value).gains.rows.length // 6, one an animal in care
 */
export function dayPage(answer: DayAnswer): DayPage {
  const { value: analysis, notices } = answer.analysis;
  return withNamedDiets(
    {
      title: `${analysis.title}: ${count(analysis.animals.length, "animal")}, read up to the end of ${formatDate(analysis.onDay)}.`,
      records: [recordsTable(analysis), setAsideTable(analysis)],
      ...withNamedAnimals(
        {
          slips: slipsTable(analysis),
          notices: { kind: "notices" as const, notices },
          gains: gainsTable(analysis),
          gainCharts: gainsPictures(analysis, analysis.settings.species),
          conversion: [conversionPicture(analysis), conversionTable(analysis)],
          flags: [
            flagsTable(analysis),
            { kind: "notices" as const, notices: analysis.flags.notices },
          ],
        },
        analysis.animals,
      ),
    },
    analysis.diets,
  );
}
