import type { ObservationKind } from "../../records/study.js";
import { behaviour } from "./kinds/behaviour.js";
import { bloat } from "./kinds/bloat.js";
import { blood } from "./kinds/blood.js";
import { convulsion } from "./kinds/convulsion.js";
import { exam, groom, milestone, note, swim } from "./kinds/free.js";
import { glucose } from "./kinds/glucose.js";
import { hydration } from "./kinds/hydration.js";
import { conditionScore, girth, length } from "./kinds/size.js";
import { stool } from "./kinds/stool.js";
import { suckle } from "./kinds/suckle.js";
import { temperature } from "./kinds/temperature.js";
import { fluids, medication } from "./kinds/treatment.js";
import { urine } from "./kinds/urine.js";
import { regurgitation, vomit } from "./kinds/vomit.js";
import type { SignKind } from "./sign-kind.js";

/** Every kind of sign, each as one piece of data: the readers and the tables people read use this. */
export const signTable: readonly SignKind[] = [
  temperature,
  glucose,
  behaviour,
  suckle,
  hydration,
  vomit,
  regurgitation,
  stool,
  urine,
  bloat,
  blood,
  convulsion,
  length,
  girth,
  conditionScore,
  medication,
  fluids,
  exam,
  swim,
  groom,
  milestone,
  note,
];

const byKind = new Map(signTable.map((kind) => [kind.kind, kind]));

/** The data of one kind. */
export function signKindOf(kind: ObservationKind): SignKind {
  return byKind.get(kind) ?? note;
}
