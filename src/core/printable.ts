// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is replaced.
const unprintable = /[\u0000-\u0008\u000B\u000C\u000E-\u001F\u007F\uFFFE\uFFFF]/g;

/**
 * Text without the characters that no document may hold (XML 1.0, production 2), each
 * shown as U+FFFD: one of them in a name makes a whole page or picture unreadable.
 *
 * @example printable("bell\u0007") // "bell\uFFFD"
 */
export const printable = (text: string): string => text.replace(unprintable, "\uFFFD");
