import type { VegaLiteSpec } from "./chart.js";
import { palette } from "./palette.js";

/** Words that stay readable over lines and fills: the same words beneath them, wider and in the colour of the ground. */
export function withHalo(text: VegaLiteSpec): readonly VegaLiteSpec[] {
  const mark = text["mark"] as VegaLiteSpec;
  const { color: _, ...places } = (text["encoding"] ?? {}) as VegaLiteSpec;
  return [
    {
      ...text,
      mark: {
        ...mark,
        color: palette.paper,
        stroke: palette.paper,
        strokeWidth: 4,
        strokeJoin: "round",
      },
      encoding: places,
    },
    text,
  ];
}
