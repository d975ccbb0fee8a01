import type { Measured } from "../core/measured.js";
import { plainWording, type Wording } from "../core/wording.js";
import { toLocal } from "./calendar.js";
import type { Instant } from "./zone.js";

/**
 * Numbers and times for the eye. Output is the same on every computer: no
 * locale of the machine is asked, decimal points throughout, times in the
 * study's zone.
 */
export function screenWording(zone: string): Wording {
  return {
    number: (value, digits = 4) => formatNumber(value, digits),
    instant: (epochMs) => formatInstant(epochMs, zone),
    list: (items) =>
      plainWording.list(items.map((i) => (typeof i === "number" ? formatNumber(i) : i))),
  };
}

/**
 * A number with at most so many significant digits, whole numbers kept whole,
 * a true minus sign, thin spaces between thousands from 10,000 on.
 *
 * @example formatNumber(12345.678) // "12 346" (narrow no-break space)
 * @example formatNumber(-0.0123456, 3) // "−0.0123"
 */
export function formatNumber(value: number, digits = 4): string {
  if (!Number.isFinite(value)) return Number.isNaN(value) ? "not a number" : value > 0 ? "∞" : "−∞";
  const size = Math.abs(value);
  if (size !== 0 && (size < 1e-4 || size >= 1e15)) {
    return value
      .toExponential(Math.max(0, digits - 1))
      .replace("e+", "e")
      .replace("-", "−");
  }
  const whole = size >= 10 ** (digits - 1);
  const text = whole ? String(Math.round(size)) : String(Number(size.toPrecision(digits)));
  const [head = "", tail] = text.split(".");
  const grouped = head.length > 4 ? head.replace(/\B(?=(\d{3})+$)/g, "\u202f") : head;
  const out = tail === undefined ? grouped : `${grouped}.${tail}`;
  return value < 0 && out !== "0" ? `−${out}` : out;
}

/** A number with exactly so many decimals. @example formatFixed(2.5, 2) // "2.50" */
export function formatFixed(value: number, decimals: number): string {
  if (!Number.isFinite(value)) return formatNumber(value);
  const text = Math.abs(value).toFixed(decimals);
  return value < 0 && Number(text) !== 0 ? `−${text}` : text;
}

/** A mass: whole grams below 10 kg, kilograms with two decimals from there. @example formatMass(1849.6) // "1850 g" */
export function formatMass(g: number): string {
  return Math.abs(g) < 9999.5 ? `${formatFixed(g, 0)} g` : `${formatFixed(g / 1000, 2)} kg`;
}

/** A gain. @example formatRate(61.24) // "61.2 g/d" */
export function formatRate(gPerDay: number): string {
  return `${formatNumber(gPerDay, 3)} g/d`;
}

/** Per cent, from per cent. @example formatPercent(12.345) // "12.3 %" */
export function formatPercent(percent: number, digits = 3): string {
  return `${formatNumber(percent, digits)} %`;
}

/** A date for people. @example formatDate("2025-05-02") // "2 May 2025" */
export function formatDate(day: string): string {
  const m = /^(\d{4})-(\d{2})-(\d{2})$/.exec(day);
  const name = m === null ? undefined : months[+m[2]! - 1];
  return m === null || name === undefined ? day : `${+m[3]!} ${name} ${m[1]}`;
}

/** An instant in the study's zone. @example formatInstant(0, "UTC") // "1 Jan 1970 00:00" */
export function formatInstant(at: Instant, zone: string): string {
  const iso = new Date(toLocal(at, zone)).toISOString();
  return `${formatDate(iso.slice(0, 10))} ${iso.slice(11, 16)}`;
}

/** An instant as sortable local text. @example localText(0, "UTC") // "1970-01-01 00:00" */
export function localText(at: Instant, zone: string): string {
  return new Date(toLocal(at, zone)).toISOString().slice(0, 16).replace("T", " ");
}

/**
 * A measured number with unit and its uncertainty where it has one; a dash
 * where it is not defined (its `why` is a sentence of its own).
 *
 * @example formatMeasured({ value: 61.234, unit: "g/d", se: 3.12 }) // "61.2 g/d (SE 3.12)"
 */
export function formatMeasured(m: Measured, digits = 3): string {
  if (m.value === null) return "–";
  const value = `${formatNumber(m.value, digits)}${m.unit === "" ? "" : ` ${m.unit}`}`;
  if (m.interval !== undefined) {
    const end = (x: number | null, unbounded: string) =>
      x === null ? unbounded : formatNumber(x, digits);
    const level = formatNumber(100 * m.interval.level, 3);
    return `${value} (${level} % ${end(m.interval.lower, "−∞")} to ${end(m.interval.upper, "∞")})`;
  }
  return m.se === undefined ? value : `${value} (SE ${formatNumber(m.se, digits)})`;
}

const months = "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split(" ");
