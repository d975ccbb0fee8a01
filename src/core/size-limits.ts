/**
 * How much is taken, kept, waited for and shown. Every limit of size, time and memory
 * stands here and nowhere else; the documentation and the README make their tables of it.
 */
export interface SizeLimits {
  /** Bytes of a file of records; about a million rows lie below this. A longer one is refused by name. */
  readonly fileBytes: number;
  /** Bytes of all files of a study together: it is held in memory whole. More is refused before anything is read. */
  readonly studyBytes: number;
  /** Tables in one folder inside a study's. More are taken for something else than records: none is read, and a caution says so. */
  readonly filesInFolder: number;
  /** Columns of a table, headings without a name included. More are refused. */
  readonly columns: number;
  /** Characters of a cell in which a number, a date or an order is looked for, with unit and remark. A longer cell is kept as it is and not read. */
  readonly numberLetters: number;
  /** Levels to which study.json, or a table in JSON, may be nested. Deeper is refused. */
  readonly jsonLevels: number;
  /** Lines of a file in which its heading is looked for. Below them it is not found. */
  readonly headingLines: number;
  /** Bytes of a row where rows are added up from disk. A longer row is set aside. */
  readonly rowBytes: number;
  /** Bytes to which a cell in quotation marks is followed there. A longer one is set aside. */
  readonly quoteBytes: number;
  /** Bytes of a workbook. A larger one is refused. */
  readonly workbookBytes: number;
  /** Bytes of all parts of a workbook unpacked, as declared and as counted. More are refused. */
  readonly unpackedBytes: number;
  /** Parts of a workbook. More are refused. */
  readonly workbookParts: number;
  /** Cells of all sheets of a workbook together, blank ones before the last of each row included. More are refused. */
  readonly workbookCells: number;
  /** Seconds in which a workbook must open, in a thread of its own. */
  readonly workbookSeconds: number;
  /** Megabytes of memory that thread may take. */
  readonly workbookMegabytes: number;
  /** Rows of an archive that are read as one study. More are refused; sums have no limit. */
  readonly archivedStudyRows: number;
  /** Characters of a facility's name in an archive. A longer one is refused. */
  readonly facilityLetters: number;
  /** Characters of a folder of an archive. A longer name is cut and ends in its digest. */
  readonly archiveFolderLetters: number;
  /** Bytes of all kept answers together. What was not used for longest goes. */
  readonly cacheBytes: number;
  /** Bytes of one kept answer. A larger one is worked out each time. */
  readonly answerBytes: number;
  /** Seconds until a notebook's kernel must answer. A quiet machine needs 2; one at which many work at once was seen to need 55. */
  readonly kernelStartSeconds: number;
  /** Seconds for one cell of a notebook, unless `--cell-seconds` says otherwise. */
  readonly cellSeconds: number;
  /** Seconds for one notebook, unless `--notebook-seconds` says otherwise. */
  readonly notebookSeconds: number;
  /** Seconds until a page must be printed to PDF. */
  readonly pdfSeconds: number;
  /** Characters of a cell of a workbook that is written, as its format has it. A longer text is cut, with a note; the CSV file holds it whole. */
  readonly sheetCellLetters: number;
  /** Characters of a sheet's name, as its format has it. A longer one is cut and ends in "…". */
  readonly sheetNameLetters: number;
  /** Characters of the name of a file that is called as an animal or a table. A longer one is cut and ends in "…". */
  readonly fileNameLetters: number;
  /** Characters of a note in a short answer. A longer one is cut and ends in "…"; it stands whole in its table. */
  readonly saidLetters: number;
  /** Characters of what is written at a mark in a picture. A longer one is cut and ends in "…"; it stands whole in its table. */
  readonly markLetters: number;
  /** Characters of what was written, where a mistake repeats it. More are cut and end in "…". */
  readonly repeatedLetters: number;
  /** Items of a list that a notebook shows. Of a longer one the beginning stands, and how many there are. */
  readonly shownItems: number;
  /** Characters of an object that a notebook shows in one cell. More are cut and end in "…". */
  readonly objectLetters: number;
  /** Characters of a cell or an id in a line on the screen. More are cut and end in "…". */
  readonly lineLetters: number;
  /** Characters of a row set aside in the list of problems. More are cut and end in "…". */
  readonly rowInListLetters: number;
}

const mb = 2 ** 20;

export const sizeLimits: SizeLimits = {
  fileBytes: 48 * mb,
  studyBytes: 192 * mb,
  filesInFolder: 200,
  columns: 2000,
  numberLetters: 500,
  jsonLevels: 20,
  headingLines: 60,
  rowBytes: mb,
  quoteBytes: mb / 16,
  workbookBytes: 50 * mb,
  unpackedBytes: 300 * mb,
  workbookParts: 2000,
  workbookCells: 10_000_000,
  workbookSeconds: 60,
  workbookMegabytes: 2048,
  archivedStudyRows: 1_500_000,
  facilityLetters: 60,
  archiveFolderLetters: 120,
  cacheBytes: 256 * mb,
  answerBytes: 32 * mb,
  kernelStartSeconds: 180,
  cellSeconds: 600,
  notebookSeconds: 1800,
  pdfSeconds: 120,
  sheetCellLetters: 32_767,
  sheetNameLetters: 31,
  fileNameLetters: 80,
  saidLetters: 90,
  markLetters: 60,
  repeatedLetters: 200,
  shownItems: 100,
  objectLetters: 80,
  lineLetters: 40,
  rowInListLetters: 2000,
};
