/**
 * Paths at which a value would be lost or changed on the way through JSON text: what is no
 * number (NaN, Infinity), a nought below nought, a gap in a list, functions, symbols, big
 * integers, and every object that is neither a plain record nor a list. A property without a
 * value is as good as none. The same question as comparing a value with its copy from text,
 * without comparing millions of equal values.
 */
export function notPlain(value: unknown, path = "", found: string[] = []): string[] {
  if (found.length >= 20) return found;
  if (value === null || typeof value === "string" || typeof value === "boolean") return found;
  if (typeof value === "number") {
    if (!Number.isFinite(value) || Object.is(value, -0)) found.push(path);
    return found;
  }
  if (typeof value !== "object") {
    found.push(path);
    return found;
  }
  if (Array.isArray(value)) {
    for (let i = 0; i < value.length; i++) notPlain(value[i], `${path}[${i}]`, found);
    return found;
  }
  const kind = Object.getPrototypeOf(value);
  if ((kind !== Object.prototype && kind !== null) || "toJSON" in value) {
    found.push(path);
    return found;
  }
  for (const [key, each] of Object.entries(value))
    if (each !== undefined) notPlain(each, `${path}.${key}`, found);
  return found;
}
