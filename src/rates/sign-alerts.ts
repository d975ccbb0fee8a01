import type { AlertGiven } from "../core/messages/signs.js";
import { type Notice, notice } from "../core/notice.js";
import { type Finding, mayBePresent, type Sign } from "../series/signs/sign.js";
import { signKindOf } from "../series/signs/sign-table.js";
import { hourMs } from "../units/hour-ms.js";
import { limitSource } from "./limit-source.js";
import {
  type AlertKind,
  type DangerAct,
  dangerFindings,
  defaultSignLimits,
  lookFindings,
  type SignLimits,
} from "./sign-limits.js";

/** Something that a sign raised, when it was written. */
export interface SignAlert {
  readonly level: "danger" | "second look";
  readonly what: AlertKind;
  /** What is to be done about a danger; null for a second look. */
  readonly act: DangerAct | null;
  readonly at: number;
  /** True where it rests on a reading in doubt. */
  readonly inDoubt: boolean;
  readonly sentence: Notice;
}

/**
 * What the signs of one animal raise, in order of time, each from what was written
 * by then: dangers, second looks, repetition within hours, and lines that cannot be
 * read. A doubtful line counts as its worse admissible meaning. Temperature, and the
 * absence of stool and urine, have rules of their own. No diagnosis.
 *
 * @example signAlerts(series.signs)[0] // { level: "danger", what: "not suckling", act: "do not feed until spoken", ... }
 */
export function signAlerts(
  signs: readonly Sign[],
  limits: SignLimits = defaultSignLimits,
): readonly SignAlert[] {
  return signs.flatMap((sign, i) => {
    const alerts = [
      ...glucoseAlerts(sign, limits),
      ...conditionAlerts(sign, limits),
      ...findingAlerts(sign),
      ...repeatAlerts(signs, i, limits),
    ];
    const { question } = sign;
    if (question === null || signKindOf(sign.kind).looksIfUnread !== true) return alerts;
    return alerts.length > 0
      ? alerts
      : [alert(sign, "second look", "entry not read", null, question)];
  });
}

function glucoseAlerts(sign: Sign, limits: SignLimits): SignAlert[] {
  const inWords = sign.saidInWords?.find((said) => said.kind === "glucose");
  if (inWords !== undefined)
    return glucoseAlerts(
      { ...sign, saidInWords: [], kind: "glucose", measure: inWords.measure, sure: false },
      limits,
    );
  const { measure } = sign;
  if (sign.kind !== "glucose" || measure === null) return [];
  const beyond = (range: SignLimits["glucoseDanger"]) =>
    range !== null && (measure.low < range[0] || measure.high > range[1]);
  const bounds = (name: "glucoseDanger" | "glucoseLook") => ({
    from: limits[name]![0],
    to: limits[name]![1],
    source: limitSource(limits, defaultSignLimits, [name]),
  });
  if (beyond(limits.glucoseDanger))
    return [danger(sign, "glucose", "call now, feed as ordered", bounds("glucoseDanger"))];
  return beyond(limits.glucoseLook) ? [look(sign, "glucose", bounds("glucoseLook"))] : [];
}

/** A score at or below the limit; of several meanings the worse. */
function conditionAlerts(sign: Sign, limits: SignLimits): SignAlert[] {
  const { measure } = sign;
  const upTo = limits.conditionLook;
  if (sign.kind !== "condition score" || measure === null || upTo === null) return [];
  const source = limitSource(limits, defaultSignLimits, ["conditionLook"]);
  return measure.low <= upTo + 1e-9 ? [look(sign, "condition score", { upTo, source })] : [];
}

/** Kinds whose being there is a finding. */
function findingsOf(sign: Sign): readonly Finding[] {
  const own = ["bloat", "blood", "convulsion"].find((kind) => kind === sign.kind) as
    | Finding
    | undefined;
  const there = own !== undefined && mayBePresent(sign) ? [own] : [];
  return [...new Set([...there, ...sign.findings])];
}

function findingAlerts(sign: Sign): SignAlert[] {
  const findings = findingsOf(sign);
  const out: SignAlert[] = [];
  for (const finding of findings) {
    const grave = dangerFindings[finding];
    if (grave === undefined) continue;
    // Bloat that is said to have gone by is looked at; the hold on feeding stands.
    if (finding === "bloat" && sign.findings.includes("settled")) out.push(look(sign, "bloat"));
    else out.push(danger(sign, grave.what, grave.act));
  }
  const looked = findings.filter((f) => lookFindings.includes(f));
  if (looked.length > 0 && out.every((a) => a.level !== "danger"))
    out.push(look(sign, looked.join(", ")));
  return out;
}

/** Vomit, regurgitation and stools, counted over the hours before. */
function repeatAlerts(signs: readonly Sign[], index: number, limits: SignLimits): SignAlert[] {
  const sign = signs[index]!;
  if (sign.kind !== "stool" && !isEvent(sign, "vomit") && !isEvent(sign, "regurgitation"))
    return [];
  const within = (hours: number, of: (s: Sign) => number) => {
    let sum = 0;
    for (let i = index; i >= 0; i--) {
      const s = signs[i]!;
      if (sign.at - s.at > hours * hourMs) break;
      sum += of(s);
    }
    return sum;
  };
  const times = (s: Sign) => s.count ?? 1;
  const vomits = (s: Sign) => (isEvent(s, "vomit") ? times(s) : 0);
  const regurgitations = (s: Sign) => (isEvent(s, "regurgitation") ? times(s) : 0);
  const stools = (finding: Finding) => (s: Sign) =>
    s.kind === "stool" && s.findings.includes(finding) ? times(s) : 0;
  const out: SignAlert[] = [];
  if (vomits(sign) > 0) {
    const n = within(limits.vomitsWithinH, vomits);
    const day = within(24, vomits);
    const { vomits: near, vomitsIn24H: far, vomitsWithinH: hours } = limits;
    out.push(
      near !== null && n >= near
        ? danger(sign, "repeated vomit", "do not feed until spoken", { n, hours })
        : far !== null && day >= far
          ? danger(sign, "repeated vomit", "call now, feed as ordered", { n: day, hours: 24 })
          : look(sign, "vomit", day > 1 ? { n: day, hours: 24 } : {}),
    );
  }
  const over = (limit: number | null, of: (s: Sign) => number): number | null => {
    if (limit === null || of(sign) === 0) return null;
    const n = within(24, of);
    return n >= limit ? n : null;
  };
  const watery = over(limits.wateryStools, stools("watery stool"));
  if (watery !== null)
    out.push(danger(sign, "watery stool", "call now, feed as ordered", { n: watery, hours: 24 }));
  const either = (s: Sign) => Math.max(stools("soft stool")(s), stools("watery stool")(s));
  const soft = over(limits.softStools, either);
  if (soft !== null && watery === null) out.push(look(sign, "soft stool", { n: soft, hours: 24 }));
  const regurgitated = over(limits.regurgitations, regurgitations);
  if (regurgitated !== null) out.push(look(sign, "regurgitation", { n: regurgitated, hours: 24 }));
  return out;
}

function isEvent(sign: Sign, kind: "vomit" | "regurgitation"): boolean {
  return sign.kind === kind ? mayBePresent(sign) : sign.findings.includes(kind);
}

type Beside = Partial<Pick<AlertGiven, "n" | "hours" | "from" | "to" | "upTo" | "source">>;

function danger(sign: Sign, what: AlertKind, act: DangerAct, beside: Beside = {}): SignAlert {
  const code = act === "do not feed until spoken" ? "sign-danger-hold" : "sign-danger-call";
  const sentence = notice(code, "problem", said(sign, what, beside));
  return alert(sign, "danger", what, act, sentence);
}

function look(sign: Sign, words: string, beside: Beside = {}): SignAlert {
  const sentence = notice("sign-look", "caution", said(sign, words, beside));
  return alert(sign, "second look", "signs", null, sentence);
}

function said(sign: Sign, what: string, beside: Beside): AlertGiven {
  return {
    animal: sign.row.animalId,
    kind: sign.kind,
    what,
    at: sign.at,
    written: sign.written,
    inDoubt: !sign.sure,
    n: null,
    hours: null,
    from: null,
    to: null,
    upTo: null,
    source: null,
    ...beside,
  };
}

function alert(
  sign: Sign,
  level: SignAlert["level"],
  what: AlertKind,
  act: DangerAct | null,
  sentence: Notice,
): SignAlert {
  return { level, what, act, at: sign.at, inDoubt: !sign.sure, sentence };
}
