import { profileRows } from "../../../src/report/feeding/profile-rows.js";
import { knownSpecies, profileOf } from "../../../src/species/profile-of.js";
import { asIs, type DocPage, mdTable } from "../page.js";

/** The species profiles: each number with unit, source and how sure it is. */
export function speciesPage(): DocPage {
  const parts = knownSpecies().map((species) => {
    const rows = profileRows(profileOf(species)).map((r) => [
      asIs(r.entry),
      asIs(r.age),
      r.low === null ? "not known" : r.low === r.high ? `${r.low}` : `${r.low} to ${r.high}`,
      asIs(r.unit),
      asIs(r.source),
      asIs(r.howSure),
    ]);
    return `## ${species}\n\n${mdTable(["entry", "age", "value", "unit", "source", "how sure"], rows)}`;
  });
  return {
    name: "species",
    markdown: `# Species profiles

What is known of a species before a single animal is weighed. Where no source was found there is no number. Defaults for comparison and warning, never a clinical instruction; your veterinarian's numbers replace them: [A species of your own](own-species.md).

${parts.join("\n\n")}`,
  };
}
