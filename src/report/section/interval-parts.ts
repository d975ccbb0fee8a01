/**
 * A number and the interval in brackets behind it, as two parts that no line
 * may break inside; null for any other text.
 *
 * @example intervalParts("93.7 g/d (95 % 45.3 to 142)") // ["93.7 g/d", "(95 % 45.3 to 142)"]
 */
export function intervalParts(text: string): readonly [string, string] | null {
  const found = /^([−-]?[\d.\u202f]+(?: [^\s()]{1,8})?) (\([^()]{1,28}\))$/.exec(text);
  return found === null ? null : [found[1]!, found[2]!];
}
