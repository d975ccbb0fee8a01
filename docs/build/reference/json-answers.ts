/**
 * What each command prints with `--json`, by its `kind`: the parts of the object beside
 * `kind` and `schema`. A test runs the commands and holds this list to what they print.
 */
export const jsonAnswers: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  error: {
    needed: "what was needed",
    came: "what came",
    where: "where it stands: an option, a file, a command",
    todo: "what to do",
  },
  check: {
    readable: "false where nothing could be read: then needed, came, where, todo and proposals",
    title: "title of the study",
    zone: "its time zone",
    counts: "for each table and file: rows in, accepted, set aside",
    rowsIn: "rows in all; always accepted + setAside",
    accepted: "rows accepted",
    acceptedWithNotice: "of these, rows with a notice",
    setAside: "rows set aside",
    reasons: "why rows were set aside, counted",
    notices: "what was noticed, counted, each with its first place",
    columns: "each heading: which column it was read as, and its unit",
    setAsideRows: "every row set aside: file, line, column, value, reason, suggestion",
    suspectedSlips: "weighings that look like slips of the pen",
    suspectedFeeds: "feeds that look like slips of the pen",
    decisions: "what became of each line of decisions.csv",
    proposals: "how files and names may be meant",
    saved: "what --save-mapping wrote; null where it was not asked for",
    written: "files written",
  },
  day: {
    onDay: "the feeding day looked at",
    recordsEnd: "instant of the newest row, ISO 8601 in UTC",
    rowsNotUsed: "rows set aside",
    animals:
      "each animal in care, those of most concern first: animalId, name, level, act, reasons",
    said: "what else the terminal would say, such as that the records ended long ago",
    written: "files written",
  },
  "hand-over": {
    onDay: "as for day",
    recordsEnd: "as for day",
    rowsNotUsed: "as for day",
    animals: "as for day",
    said: "as for day",
    written: "the page and the feeding sheet",
  },
  report: {
    open: "the page in front",
    files: "names of the files of the report",
    animals: "how many animals",
    decisions: "what became of each line of decisions.csv",
  },
  prior: {
    said: "what the file rests on",
    written: "the file",
    prior: "its content",
  },
  "run-notebooks": {
    open: "the page in front",
    outcomes:
      "each notebook run: name, title, seconds, page, and failure (cell, source, why) or null",
    waiting: "notebooks that the tables do not allow yet, with what to add",
  },
  new: {
    zone: "the time zone written into study.json",
    open: "the page to read first",
    made: "files made",
    said: "warnings: a zone that was not given, a species without numbers",
  },
  explain: {
    word: "the word",
    is: "level, flag, reason, method or sentence",
    meaning: "what it means, with its source",
    sentences: "how pages say it: code and shape",
  },
  doctor: { checks: "each check: what was looked at, its state, and what to type" },
  "kernel-path": { path: "the folder for JUPYTER_PATH" },
  cache: {
    folder: "where answers are kept",
    answers: "how many",
    bytes: "how many bytes",
    isOff: "whether it is switched off",
  },
  "cache-clear": { folder: "as above", answers: "how many were removed", bytes: "bytes freed" },
  watch: { address: "the address to open; one object a line, this one once" },
  "watch-made": {
    seconds: "how long the pages took",
    trouble: "why they are older than the records; null where they are not",
    byClock: "true where nothing was saved and only time went on",
    tables: "rows by table; null with --without-people",
  },
};
