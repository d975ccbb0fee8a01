import { list, type Section, section } from "../section/section.js";

/** What no page of this kind can tell; who decides stands once, beside the answers. */
export function limitsSection(): Section {
  return section("Limits", [
    list([
      "No drug or fluid dose is computed.",
      "What was not written down is not known: a missing feed, refusal or illness looks like none.",
      "Gain in the first days is often rehydration, not growth; loss in a fast after weaning or in moult is expected.",
      "Animals that died or left early are missing from later ages, so later averages describe those that stayed.",
      "An estimated birth date makes every age uncertain by as much; where age was judged from mass, mass for age is not computed.",
      "A difference between seasons is not the effect of a protocol: animals, staff and weather change with the season.",
      "Intervals describe uncertainty of the numbers given the records, not errors in the records themselves.",
      "Not flagged does not mean healthy; flagged does not mean ill.",
    ]),
  ]);
}
