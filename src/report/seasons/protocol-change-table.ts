import type { Result } from "../../core/result.js";
import type { ProtocolChange } from "../../seasons/protocol-change.js";
import { say } from "../section/say.js";
import { type Table, table } from "../section/section.js";
import { spreadText } from "../section/spread-cell.js";

/** A change inside a season: each animal's relative gain before and after, and the controls. */
export function protocolChangeTable(change: Result<"protocol-change", ProtocolChange>): Table {
  const { animals, days, controlChange, controls } = change.value;
  return table(
    "protocol-change",
    say("season-table-change", {
      days,
      controls: controls.length,
      expected: spreadText(controlChange),
    }),
    [
      { title: "Animal" },
      { title: "Age on the day", unit: "d", align: "number", digits: 3 },
      { title: "Before", unit: "%/d", align: "number", digits: 3 },
      { title: "After", unit: "%/d", align: "number", digits: 3 },
      { title: "Change", unit: "%/d", align: "number", digits: 3 },
    ],
    animals.map((a) => [a.animalId, a.ageD, a.before, a.after, a.change]),
    say("season-table-no-change"),
  );
}
