/** Sets that are not yet read as a careful person reads them, by name, each with the reason. */
export const notYet: Readonly<Record<string, string>> = {};
