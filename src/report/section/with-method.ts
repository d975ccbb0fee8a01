import type { Chart } from "../../charts/chart.js";
import { say } from "./say.js";

/** How the numbers of a picture were had; its sentence goes under the picture, after n. */
export type PictureMethod =
  | "daily-mass"
  | "fit"
  | "residual"
  | "intake"
  | "forecast"
  | "ration"
  | "weaning";

/** The picture with its method in the caption. */
export function withMethod(chart: Chart, method: PictureMethod): Chart {
  return captioned(chart, say(`picture-${method}`));
}

/** The same for a gain, over the days that were asked for. */
export function withGainDays(chart: Chart, days: number): Chart {
  return captioned(chart, say("picture-relative-gain", { days }));
}

function captioned(chart: Chart, sentence: string): Chart {
  return { ...chart, caption: `${chart.caption} ${sentence}` };
}
