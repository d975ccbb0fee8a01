/** Sets that are not yet read as a careful person reads them, by name, each with what fails first. */
export const notYet: Readonly<Record<string, string>> = {
  "a folder for each year": "folders inside the study folder are not looked into",
  "a folder for the weighings, a file for each week":
    "folders inside the study folder are not looked into",
  "feeds headed by a date line for each day": "a line with a day alone is no layout yet",
};
