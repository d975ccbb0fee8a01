/**
 * A cell as it was meant to be typed: without characters that cannot be seen,
 * full-width and other digits as 0 to 9, every kind of space as a space. The
 * apostrophe by which a spreadsheet marks text falls away. What can be seen
 * and read is not changed.
 *
 * @example cleanText("\u200b６０\u00a0g") // "60 g"
 */
export function cleanText(text: string): string {
  const plain = plainAscii.test(text) ? text : seen(text);
  const trimmed = plain.trim();
  return trimmed.startsWith("'") ? trimmed.slice(1).trim() : trimmed;
}

const plainAscii = /^[\x20-\x7e]*$/;

function seen(text: string): string {
  return (
    text
      // Soft hyphens, zero-width characters, marks of direction: nobody typed them.
      .replace(/\p{Cf}/gu, "")
      .replace(/[\s\u2800\u3164]/gu, " ")
      .replace(/[\uff01-\uff5e]/g, (c) => String.fromCharCode(c.charCodeAt(0) - 0xfee0))
      .replace(/\p{Nd}/gu, (c) => String(digitValue(c)))
  );
}

/** Digits stand in runs of ten in every script. */
function digitValue(c: string): number {
  const code = c.normalize("NFKC").codePointAt(0)!;
  let zero = code;
  while (code - zero < 9 && /\p{Nd}/u.test(String.fromCodePoint(zero - 1))) zero--;
  return (code - zero) % 10;
}
