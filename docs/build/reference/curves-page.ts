import { growthCurves } from "../../../src/growth/curve-catalogue.js";
import type { GrowthCurve } from "../../../src/growth/growth-curve.js";
import { asIs, code, type DocPage, mdTable } from "../page.js";

/** Every growth curve: equation, parameters, domain, citations. */
export function curvesPage(): DocPage {
  const all: readonly GrowthCurve[] = Object.values(growthCurves);
  const parts = all.map((curve) => {
    const rows = curve.parameters.map((p) => [code(p.name), asIs(p.meaning), asIs(p.kind)]);
    return [
      `## ${asIs(curve.title)}`,
      `${code(curve.name)}: ${code(curve.equation)}. ${asIs(curve.domain)}`,
      mdTable(["parameter", "is", "kind"], rows),
      curve.citations.map((words) => `- ${asIs(words)}`).join("\n"),
    ].join("\n\n");
  });
  return {
    name: "curves",
    markdown: `# Growth curves

The ${all.length} curves of \`growth.fitCurve\`, simple ones first. W is mass, t age. \`g.growth.chooseCurve\` compares several; a curve of one's own is [added in a few lines](add-a-curve.md).

${parts.join("\n\n")}`,
  };
}
