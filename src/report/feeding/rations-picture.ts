import type { Chart } from "../../charts/chart.js";
import { rationChart } from "../../charts/ration-chart.js";
import type { Ration } from "../../planning/ration.js";
import { formatDate } from "../../units/format-date.js";
import { animalLabel } from "../section/animal-label.js";
import { say } from "../section/say.js";
import { withMethod } from "../section/with-method.js";
import { statusText } from "./sheet-rows.js";

/** The rations of one day beside each other; no bar stands for an animal on hold. */
export function rationsPicture(rations: readonly Ration[]): Chart {
  const day = rations[0]?.feedingDay;
  const chart = rationChart({
    day: day === undefined ? "no day" : formatDate(day),
    animals: rations.map((r) => ({
      name: animalLabel(r),
      parts: r.status === "ration" ? r.parts.map((p) => ({ diet: p.dietId, g: p.g })) : [],
      instead:
        r.status === "ration"
          ? null
          : r.status === "hold"
            ? statusText(r)
            : say("picture-ration-none"),
      eatenG: r.recentEatenG.value,
    })),
  });
  return withMethod(chart, "ration");
}
