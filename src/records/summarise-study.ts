import type { Notice } from "../core/notice.js";
import type { NoticeCode } from "../core/sentences.js";
import type { SetAsideRow, Study, TableCount } from "./study.js";

/** A notice code with how often it came and one example; of species' entries one each. */
export interface NoticeCount {
  readonly code: NoticeCode;
  readonly level: Notice["level"];
  readonly count: number;
  readonly first: Notice;
}

export interface StudySummary {
  readonly title: string;
  readonly zone: string;
  readonly counts: readonly TableCount[];
  readonly rowsIn: number;
  readonly accepted: number;
  readonly acceptedWithNotice: number;
  readonly setAside: number;
  /** Rows set aside, by reason, most frequent first. */
  readonly reasons: readonly NoticeCount[];
  /** Notices by code: problems first, then the most frequent. */
  readonly notices: readonly NoticeCount[];
  readonly firstSetAside: readonly SetAsideRow[];
}

/**
 * A study's state of health in one screen.
 *
 * @example summariseStudy(await readStudy("data-demo")).setAside // rows of the demo set aside
 */
export function summariseStudy(study: Study, howMany = 8): StudySummary {
  const sum = (pick: (c: TableCount) => number) =>
    study.counts.reduce((total, c) => total + pick(c), 0);
  return {
    title: study.settings.title,
    zone: study.settings.zone,
    counts: study.counts,
    rowsIn: sum((c) => c.rowsIn),
    accepted: sum((c) => c.accepted),
    acceptedWithNotice: sum((c) => c.acceptedWithNotice),
    setAside: sum((c) => c.setAside),
    reasons: countNotices(study.setAside.map((row) => row.reason)),
    notices: countNotices(study.notices),
    firstSetAside: study.setAside.slice(0, howMany),
  };
}

const levels = { problem: 0, caution: 1, info: 2 } as const;

/**
 * Notices by code: problems first, then the most frequent, then by name. An entry of a
 * profile that cannot be used is told from the next one, since each is mended by itself.
 */
export function countNotices(notices: readonly Notice[]): NoticeCount[] {
  const found = new Map<string, { count: number; first: Notice }>();
  for (const n of notices) {
    const key = `${n.code} ${n.code.startsWith("species-override") ? n.parameters["entry"] : ""}`;
    const entry = found.get(key);
    if (entry === undefined) found.set(key, { count: 1, first: n });
    else entry.count++;
  }
  return [...found.values()]
    .map(({ count, first }) => ({ code: first.code, level: first.level, count, first }))
    .sort(
      (a, b) =>
        levels[a.level] - levels[b.level] || b.count - a.count || (a.code < b.code ? -1 : 1),
    );
}
