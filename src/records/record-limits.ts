/** What files of records may at most be; workbooks have limits of their own beside these. */
export const recordLimits = {
  /** Size of a file; about a million rows lie below this. */
  fileBytes: 48 * 2 ** 20,
  /** Size of all files of a study together: it is held in memory whole, however it is cut into files. */
  studyBytes: 192 * 2 ** 20,
  /** Columns of a table, headings without a name included. */
  columns: 2000,
  /** Letters of a cell in which a number is looked for, with unit and remark. */
  numberLetters: 500,
  /** Levels to which study.json may be nested. */
  levels: 20,
} as const;
