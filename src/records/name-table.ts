/** Names met in a stream of bytes, numbered in order of first appearance. */
export interface NameTable {
  /** The number of the name that stands in `bytes[from, to)`; -1 for one not yet known. */
  find(bytes: Uint8Array, from: number, to: number): number;
  /** Numbers a new name (or finds it again). */
  add(name: string): number;
  readonly names: readonly string[];
}

/**
 * A table from the UTF-8 bytes of a name to its number: open addressing over a
 * 32-bit FNV-1a hash, names compared byte by byte, so that no text is made for
 * a name that is already known.
 */
export function nameTable(): NameTable {
  let slots = new Int32Array(1024).fill(-1);
  const names: string[] = [];
  const keys: Uint8Array[] = [];
  const hashes: number[] = [];

  const find = (bytes: Uint8Array, from: number, to: number): number => {
    let hash = 0x811c9dc5;
    for (let i = from; i < to; i++) hash = Math.imul(hash ^ bytes[i]!, 0x01000193);
    const mask = slots.length - 1;
    for (let slot = (hash ^ (hash >>> 15)) & mask; ; slot = (slot + 1) & mask) {
      const id = slots[slot]!;
      if (id < 0) return -1;
      if (hashes[id] !== hash) continue;
      const key = keys[id]!;
      if (key.length !== to - from) continue;
      let i = 0;
      while (i < key.length && key[i] === bytes[from + i]) i++;
      if (i === key.length) return id;
    }
  };

  const place = (id: number) => {
    const mask = slots.length - 1;
    const hash = hashes[id]!;
    let slot = (hash ^ (hash >>> 15)) & mask;
    while (slots[slot]! >= 0) slot = (slot + 1) & mask;
    slots[slot] = id;
  };

  const add = (name: string): number => {
    const key = new TextEncoder().encode(name);
    const known = find(key, 0, key.length);
    if (known >= 0) return known;
    const id = names.length;
    let hash = 0x811c9dc5;
    for (let i = 0; i < key.length; i++) hash = Math.imul(hash ^ key[i]!, 0x01000193);
    names.push(name);
    keys.push(key);
    hashes.push(hash);
    if (names.length * 2 > slots.length) {
      slots = new Int32Array(slots.length * 2).fill(-1);
      for (let i = 0; i < names.length; i++) place(i);
    } else place(id);
    return id;
  };
  return { find, add, names };
}
