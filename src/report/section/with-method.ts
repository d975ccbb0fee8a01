import type { Chart } from "../../charts/chart.js";
import { say } from "./say.js";

/** How the numbers of a picture were had; its sentence goes under the picture, after n. */
export type PictureMethod =
  | "daily-mass"
  | "fit"
  | "residual"
  | "intake"
  | "relative-gain"
  | "forecast"
  | "ration"
  | "weaning";

/** The picture with its method in the caption. */
export function withMethod(chart: Chart, method: PictureMethod): Chart {
  return { ...chart, caption: `${chart.caption} ${say(`picture-${method}`)}` };
}
