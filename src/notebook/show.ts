import { joinedText } from "../report/renderers/notebook-file.js";
import type { DisplayAdapter } from "./display-adapter.js";
import { displayBundle } from "./display-bundle.js";
import { tslabDisplay } from "./tslab-display.js";

/**
 * Shows anything of this library in the notebook: a chart, a table, a section,
 * a result, a measured number, rows, notices. Charts go out as Vega-Lite 5, SVG
 * and text in one output, so that every front end shows a picture. Outside a
 * notebook the text is printed.
 *
 * @example show(growthCurveChart({ points, curve, ... }))
 */
export function show(...things: readonly unknown[]): void {
  const adapter = tslabDisplay() ?? consoleDisplay;
  for (const thing of things) adapter.display(displayBundle(thing));
}

const consoleDisplay: Pick<DisplayAdapter, "display"> = {
  display(bundle) {
    const text = bundle["text/plain"];
    console.log(typeof text === "string" ? text : joinedText(text as string[]));
  },
};
