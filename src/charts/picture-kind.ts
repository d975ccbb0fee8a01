import type { VegaLiteSpec } from "./chart.js";

/** A specification without what differs between pictures of one kind, and what differs. */
export interface PictureKind {
  /** Data, ends of scales, marks of axes, titles and widths are names or stand-ins. */
  readonly spec: VegaLiteSpec;
  readonly given: PictureValues;
}

/** What is put into a picture of a kind. */
export interface PictureValues {
  /** Rows, in the order of their stand-ins. */
  readonly rows: readonly (readonly object[])[];
  /** Values by the names that stand for them. */
  readonly named: ReadonlyMap<string, unknown>;
  /** Widths of plots, in the order of their stand-ins. */
  readonly widths: readonly number[];
  readonly padding: unknown;
}

/**
 * Takes apart a specification into its kind and its values, so that what depends on the
 * kind alone is worked out once: pictures of many animals are of few kinds. Equal values of
 * one use have one name, since the chart library joins scales that are stated alike.
 *
 * @example pictureKind({ data: { values: [{ x: 1 }] }, ... }).spec.data // { values: [{ rows: 0 }] }
 */
export function pictureKind(spec: VegaLiteSpec): PictureKind {
  const rows: (readonly object[])[] = [];
  const named = new Map<string, unknown>();
  const names = new Map<string, string>();
  const widths: number[] = [];
  // Equal values have one name where scales or axes may be joined: in one panel, on one channel.
  const nameOf = (use: string, value: unknown): string => {
    const what = `${use} ${JSON.stringify(value)}`;
    const name = names.get(what) ?? `given_${names.size}`;
    names.set(what, name);
    named.set(name, value);
    return name;
  };
  const placeIn = <T>(list: T[], value: T) =>
    list.includes(value) ? list.indexOf(value) : list.push(value) - 1;
  /** `where`: panel and channel; `type`: what is measured on the channel. */
  const without = (part: unknown, where: string, type: unknown): unknown => {
    if (Array.isArray(part)) return part.map((each) => without(each, where, type));
    if (typeof part !== "object" || part === null) return part;
    const own = (part as VegaLiteSpec)["type"] ?? type;
    return Object.fromEntries(
      Object.entries(part).map(([key, value]) => [key, standIn(key, value, where, own)]),
    );
  };
  const standIn = (key: string, value: unknown, where: string, type: unknown): unknown => {
    const named = (use: unknown) => ({ signal: nameOf(`${where} ${key}`, use) });
    if (key === "config") return value;
    if (key === "vconcat" && Array.isArray(value))
      return value.map((panel, i) => without(panel, `${where} ${i}`, null));
    if (key === "encoding" && typeof value === "object" && value !== null)
      return Object.fromEntries(
        Object.entries(value).map(([channel, coded]) => [
          channel,
          without(coded, `${where} ${channel}`, null),
        ]),
      );
    if (key === "data" && isRows(value)) return { values: [{ rows: placeIn(rows, value.values) }] };
    if (key === "values" && isWrittenOut(value)) return named(JSON.parse(value.expr));
    if (key === "domain" && isDomain(value, type)) return named(value);
    if (key === "tickCount" && typeof value === "number") return named(value);
    if (key === "width" && typeof value === "number") return standInWidth(placeIn(widths, value));
    if (key === "test" && typeof value === "string")
      return value.replace(limit, (_, before: string, number: string) => {
        return before + named(Number(number)).signal;
      });
    return without(value, where, type);
  };
  const { description: _, title, padding, ...rest } = spec;
  const kind = without(rest, "", null) as VegaLiteSpec;
  return {
    spec: {
      ...kind,
      ...(title === undefined ? {} : { title: titleKind(title, nameOf) }),
      ...(padding === undefined ? {} : { padding: 0 }),
    },
    given: { rows, named, widths, padding },
  };
}

/** A width that no chart states, told from every other number of a specification. */
export const standInWidth = (place: number): number => 512 + (place + 1) / 1024;

/** The words of the picture's own title; how it looks is of the kind. */
function titleKind(title: unknown, nameOf: (use: string, value: unknown) => string): unknown {
  if (typeof title !== "object" || title === null) return title;
  const { text, subtitle, ...look } = title as VegaLiteSpec;
  const words = { text, subtitle };
  return {
    ...look,
    ...Object.fromEntries(
      Object.entries(words)
        .filter(([, value]) => value !== undefined)
        .map(([key, value]) => [key, { signal: nameOf(key, value) }]),
    ),
  };
}

const isRows = (value: unknown): value is { readonly values: readonly object[] } =>
  typeof value === "object" &&
  value !== null &&
  Object.keys(value).join() === "values" &&
  Array.isArray((value as VegaLiteSpec)["values"]);

/** Marks of an axis, given one by one. */
const isWrittenOut = (value: unknown): value is { readonly expr: string } =>
  typeof value === "object" &&
  value !== null &&
  /^\[[-\d.,e+]*\]$/.test(String((value as VegaLiteSpec)["expr"]));

/** Ends of a scale of numbers, or its names in order; dates the chart library turns into calls. */
const isDomain = (value: unknown, type: unknown): boolean =>
  Array.isArray(value) &&
  ((type === "quantitative" && value.length === 2 && value.every((v) => typeof v === "number")) ||
    (type === "nominal" && value.every((v) => typeof v === "string")));

/** A number that what is drawn is held against. */
const limit = /^(datum\.value >= )(\d+)$/g;
