import type { Chart, Reading, VegaLiteSpec } from "./chart.js";

/**
 * A chart for a live notebook: the pointer anywhere in it draws one line through
 * all panels at the nearest place and shows the values there, and the wheel or a
 * drag zooms and moves along the bottom. Vega-Lite 5 `params`; the static
 * picture of the same chart has neither.
 *
 * @example interactiveSpec(chart)["vconcat"] // every panel with a layer of its own for the line
 */
export function interactiveSpec(chart: Chart): VegaLiteSpec {
  const { spec, reading } = chart;
  if (reading === undefined || reading.length < 2) return spec;
  const panels = spec["vconcat"];
  return Array.isArray(panels)
    ? { ...spec, vconcat: panels.map((each, i) => askable(each as VegaLiteSpec, reading, i === 0)) }
    : askable(spec, reading, true);
}

function askable(panel: VegaLiteSpec, reading: readonly Reading[], zooms: boolean): VegaLiteSpec {
  const layers = panel["layer"];
  if (!Array.isArray(layers)) return panel;
  const x = bottomOf(layers as readonly VegaLiteSpec[]);
  if (x === null) return panel;
  return {
    ...panel,
    layer: [
      ...layers,
      {
        data: { values: reading.map((each) => ({ ...each })) },
        params: [
          {
            name: "asked",
            select: {
              type: "point",
              encodings: ["x"],
              nearest: true,
              on: "pointermove",
              clear: "pointerout",
            },
          },
          // One panel is enough: the panels share the axis along the bottom.
          ...(zooms
            ? [{ name: "zoom", select: { type: "interval", encodings: ["x"] }, bind: "scales" }]
            : []),
        ],
        mark: { type: "rule", strokeWidth: 1 },
        encoding: {
          x: { ...x, field: "x" },
          opacity: { condition: { param: "asked", empty: false, value: 0.7 }, value: 0 },
          tooltip: { field: "words", type: "nominal" },
        },
      },
    ],
  };
}

/** The axis along the bottom, as the first layer that has one gives it. */
function bottomOf(layers: readonly VegaLiteSpec[]): VegaLiteSpec | null {
  for (const { encoding } of layers) {
    const x = (encoding as { x?: VegaLiteSpec } | undefined)?.x;
    if (x !== undefined && typeof x["field"] === "string") return x;
  }
  return null;
}
