/**
 * A function that is worked out once for each owner and key, and forgotten with the owner.
 *
 * @example const wordsOf = onceFor((study: Study, day: string) => allWords(study, day))
 */
export function onceFor<Owner extends object, Key, Value>(
  workOut: (owner: Owner, key: Key) => Value,
): (owner: Owner, key: Key) => Value {
  const known = new WeakMap<Owner, Map<Key, Value>>();
  return (owner, key) => {
    let own = known.get(owner);
    if (own === undefined) {
      own = new Map();
      known.set(owner, own);
    }
    const before = own.get(key);
    if (before !== undefined) return before;
    const value = workOut(owner, key);
    own.set(key, value);
    return value;
  };
}
