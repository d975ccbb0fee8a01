/** The encodings that are told apart. */
export type Encoding = "UTF-8" | "UTF-16LE" | "UTF-16BE" | "Windows-1252";

/**
 * Turns a file's bytes into text: by byte-order mark where there is one, else
 * UTF-8 where the bytes are valid UTF-8, else UTF-16 where every second byte is
 * zero, else Windows-1252 (in which every byte means something). The mark is
 * not part of the text.
 *
 * @example decodeText(new Uint8Array([0xef, 0xbb, 0xbf, 0x61])) // { text: "a", encoding: "UTF-8" }
 */
export function decodeText(bytes: Uint8Array): {
  readonly text: string;
  readonly encoding: Encoding;
} {
  const [a, b, c] = bytes;
  if (a === 0xef && b === 0xbb && c === 0xbf) {
    return lenient(bytes.subarray(3), "UTF-8", "utf-8");
  }
  if (a === 0xff && b === 0xfe) return lenient(bytes.subarray(2), "UTF-16LE", "utf-16le");
  if (a === 0xfe && b === 0xff) return lenient(swapped(bytes.subarray(2)), "UTF-16BE", "utf-16le");
  const wide = zeroBytes(bytes);
  if (wide === "odd") return lenient(bytes, "UTF-16LE", "utf-16le");
  if (wide === "even") return lenient(swapped(bytes), "UTF-16BE", "utf-16le");
  try {
    return { text: new TextDecoder("utf-8", { fatal: true }).decode(bytes), encoding: "UTF-8" };
  } catch {
    return { text: windows1252(bytes), encoding: "Windows-1252" };
  }
}

function lenient(bytes: Uint8Array, encoding: Encoding, label: string) {
  return { text: new TextDecoder(label, { ignoreBOM: true }).decode(bytes), encoding };
}

/** Which bytes of the first thousand are zero, if those are nearly all of one parity. */
function zeroBytes(bytes: Uint8Array): "odd" | "even" | null {
  const n = Math.min(bytes.length - (bytes.length % 2), 1000);
  if (n < 4) return null;
  let odd = 0;
  let even = 0;
  for (let i = 0; i < n; i += 2) {
    if (bytes[i] === 0) even++;
    if (bytes[i + 1] === 0) odd++;
  }
  if (odd > 0.4 * n && even === 0) return "odd";
  return even > 0.4 * n && odd === 0 ? "even" : null;
}

function swapped(bytes: Uint8Array): Uint8Array {
  const out = new Uint8Array(bytes.length - (bytes.length % 2));
  for (let i = 0; i < out.length; i += 2) {
    out[i] = bytes[i + 1]!;
    out[i + 1] = bytes[i]!;
  }
  return out;
}

/**
 * Windows-1252 by its own table: some builds of Node decode that label as
 * Latin-1. 0x80-0x9F after the WHATWG Encoding Standard, index windows-1252.
 */
const high = "€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ";

function windows1252(bytes: Uint8Array): string {
  let text = "";
  const chunk: string[] = [];
  for (let i = 0; i < bytes.length; i++) {
    const byte = bytes[i]!;
    chunk.push(byte >= 0x80 && byte < 0xa0 ? high[byte - 0x80]! : String.fromCharCode(byte));
    if (chunk.length === 8192) {
      text += chunk.join("");
      chunk.length = 0;
    }
  }
  return text + chunk.join("");
}
