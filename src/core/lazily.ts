/**
 * A part of a result that is slow to work out and that most readers do not ask for: worked out
 * when it is first read, once. It stands among the others as they do: listed, copied and
 * written by `JSON.stringify` with its value.
 *
 * @example lazily({ recent }, "daily", () => dailyGains(series)).daily.length // 87
 */
export function lazily<Known extends object, Name extends string, Value>(
  known: Known,
  name: Name,
  workOut: () => Value,
): Known & { readonly [N in Name]: Value } {
  let found: { readonly value: Value } | null = null;
  return Object.defineProperty(known, name, {
    enumerable: true,
    get: () => {
      found ??= { value: workOut() };
      return found.value;
    },
  }) as Known & { readonly [N in Name]: Value };
}
