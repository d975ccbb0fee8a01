/** Sets that are not yet read as a careful person reads them, by name, each with what fails first. */
export const notYet: Readonly<Record<string, string>> = {};
