import type { Given, Sentence } from "../wording.js";

/** Sentences of the `records` room, by notice code. */
export const recordMessages = {
  // Settings and files.
  "records-unknown-setting": (p: Given<{ setting: string }>) =>
    `study.json holds "${p.text("setting")}", which means nothing here; check its spelling.`,
  "records-people-left-out": (p: Given<{ values: number }>) =>
    `Written without people: ${p.number("values", 9)} texts that nobody can vouch for were left out or have a number in their place.`,
  "records-feeding-day-from-midnight": () =>
    "study.json does not say at which hour the feeding day begins (feeding_day_start_hour); midnight is used.",
  "records-setting-unit": (p: Given<{ setting: string; unit: string }>) =>
    `study.json gives "${p.text("setting")}" the unit "${p.text("unit")}", which is not known; it was not used.`,
  "records-mapping-unknown": (p: Given<{ column: string; table: string }>) =>
    `study.json maps a column "${p.text("column")}" of a table "${p.text("table")}", which does not exist here.`,
  "records-unknown-table": (p: Given<{ table: string }>) =>
    `study.json names a table "${p.text("table")}", which is none.`,
  "records-file-ignored": (p: Given<{ file: string }>) =>
    `${p.text("file")} is named like none of the tables and was not read.`,
  "records-files-in-folders": (p: Given<{ count: number; files: readonly string[] }>) =>
    `${p.count("count", "file")} ${p.agree("count", "lies", "lie")} in folders inside the study's and ${p.agree("count", "was", "were")} not read (${p.text("files")}); to read them, name them under files in study.json.`,
  "records-folder-too-full": (p: Given<{ folder: string; count: number; most: number }>) =>
    `${p.text("folder")} holds ${p.count("count", "file")} like tables: of more than ${p.number("most")} none is read. Put records beside study.json.`,
  "records-file-empty": () => "The file is empty.",
  "records-encoding-assumed": (p: Given<{ encoding: string }>) =>
    `The file is not UTF-8; it was read as ${p.text("encoding")}. Check names with accents.`,
  "records-zero-bytes": (p: Given<{ count: number }>) =>
    `${p.count("count", "zero byte")} ${p.agree("count", "stands in the file and was", "stand in the file and were")} left out.`,

  "records-sheet-ignored": (p: Given<{ sheet: string }>) =>
    `No row of the sheet "${p.text("sheet")}" names the columns of a table, so it was not read.`,
  "records-sheet-example": (p: Given<{ sheet: string }>) =>
    `The sheet "${p.text("sheet")}" is an example or a dictionary by its name; it was not read.`,
  "records-sheet-hidden": () => "This sheet is hidden in the workbook; it was read.",
  "records-rows-hidden": (p: Given<{ count: number; rows: readonly number[] }>) =>
    `${p.count("count", "row")} ${p.agree("count", "is", "are")} hidden in the workbook (${p.list("rows")}); they were read.`,
  "records-merged-cells": (p: Given<{ count: number }>) =>
    `${p.number("count", 9)} merged cells: each cell of them was read as what they show.`,
  "records-headings-repeated": (p: Given<{ count: number; lines: readonly number[] }>) =>
    `${p.count("count", "line")} ${p.agree("count", "repeats the heading or is its title", "repeat the heading or are its title")} (${p.list("lines")}): no records.`,
  "records-ditto-marks": (p: Given<{ count: number }>) =>
    `${p.count("count", "ditto mark")} ${p.agree("count", "was", "were")} read as the cell above them.`,
  "records-ditto-alone": () => 'This says "as above", but nothing stands above it.',
  "records-as-above": (p: Given<{ count: number }>) =>
    `${p.count("count", "blank cell")} ${p.agree("count", "was", "were")} read as the cell above them, as study.json says.`,
  "records-day-lines": (p: Given<{ count: number }>) =>
    `${p.count("count", "line")} ${p.agree("count", "names", "name")} a day; the rows below are of that day.`,
  "records-animal-lines": (p: Given<{ count: number }>) =>
    `${p.count("count", "line")} ${p.agree("count", "names", "name")} the animal of the rows below them.`,
  "records-eaten-of-offered": (p: Given<{ count: number; of: number }>) =>
    `${p.number("count", 9)} of ${p.count("of", "cell")} ${p.agree("count", "was", "were")} read as eaten and offered.`,
  "records-totals-left-out": (
    p: Given<{ rows: number; lines: readonly number[]; columns: readonly string[] }>,
  ) =>
    `Totals are no records and were not read: ${p.count("rows", "row")} (${p.list("lines")}), columns ${p.list("columns")}.`,
  "records-cells-left": (p: Given<{ count: number; cells: readonly string[] }>) =>
    `${p.count("count", "cell")} ${p.agree("count", "fits", "fit")} nowhere in the layout and ${p.agree("count", "was", "were")} not read: ${p.list("cells")}.`,
  "records-left-out": (p: Given<{ source: string }>) =>
    `${p.text("source")} was not read; study.json says to leave it out.`,
  "records-layout-unused": (p: Given<{ source: string }>) =>
    `study.json describes the layout of "${p.text("source")}", but there is no such file, sheet or block.`,
  "records-names-in-another-case": (p: Given<{ count: number; names: readonly string[] }>) =>
    `${p.count("count", "name")} ${p.agree("count", "stands in other capitals than in its", "stand in other capitals than in their")} own table: ${p.list("names")}.`,
  "records-volumes-weighed": (p: Given<{ count: number; diet: string; density: number }>) =>
    `${p.count("count", "feed")} of ${p.text("diet")} ${p.agree("count", "was", "were")} written in millilitres and weighed at its ${p.number("density")} g/mL.`,
  "records-volume-without-density": (p: Given<{ diet: string | null }>) =>
    p.raw("diet") === null
      ? "A volume is no mass, and the row names no diet."
      : `A volume is no mass, and the density of ${p.text("diet")} is not known.`,
  "records-half-of-day": () =>
    "The order of the rows does not say whether this is before or after noon.",
  "records-half-of-day-doubtful": () =>
    "This file seems written with a clock of twelve hours without am and pm; which half of the day is meant must be said.",
  "records-half-of-day-elsewhere": () =>
    "Other files of this study have a clock of twelve hours; this time may be before or after noon. Write am or pm, or use 24 hours.",
  "records-night-date-doubtful": () =>
    "This time stands behind the evening under one date, or its file has such times: it may be of the next day; which day is meant must be said.",
  "records-night-date": () =>
    "In this file the small hours stand behind the evening, under its date; this row stands otherwise, and which day is meant must be said.",
  "records-night-date-elsewhere": () =>
    'Other files of this study have the small hours under the date of the evening before; this time may be of the next day. If it is right as it stands, say so in study.json under layouts: { "layout": "times as written" }.',
  "records-rows-above": (p: Given<{ count: number }>) =>
    `${p.count("count", "row")} above the header ${p.agree("count", "was", "were")} not read.`,

  // Headers.
  "records-mapped-header-absent": (p: Given<{ header: string }>) =>
    `study.json says this column is called "${p.text("header")}", but the file has no such column.`,
  "records-header-twice": (p: Given<{ header: string }>) =>
    `The header has "${p.text("header")}" more than once; the first was read.`,
  "records-columns-missing": (p: Given<{ table: string; columns: readonly string[] }>) =>
    `The table of ${p.text("table")} lacks the ${(p.raw("columns") ?? []).length === 1 ? "column" : "columns"} ${p.list("columns")}; all its rows are set aside.`,
  "records-column-missing": (p: Given<{ column: string }>) =>
    `The file has no column ${p.text("column")}, which is needed.`,
  "records-columns-ignored": (p: Given<{ columns: readonly string[]; count: number }>) =>
    `Not read, because they are none of ours: ${p.list("columns")}.`,
  "records-unit-contradiction": (p: Given<{ told: string; header: string }>) =>
    `study.json gives this column in ${p.text("told")}, its header says ${p.text("header")}; study.json was followed.`,
  "records-unit-by-header": (p: Given<{ header: string; told: string }>) =>
    `The header gives ${p.text("header")}, the study's unit is ${p.text("told")}; the header was followed.`,
  "records-unit-assumed": (p: Given<{ unit: string }>) =>
    `Neither header nor study.json says the unit of this column; ${p.text("unit")} was taken.`,

  // Cells: why a row was set aside.
  "records-empty-cell": () => "A cell that is needed is blank.",
  "records-error-cell": (_: Given<{ written: string }>) =>
    "This is an error of the spreadsheet, not a value; it is neither blank nor zero.",
  "records-says-unknown": (p: Given<{ written: string }>) =>
    `"${p.text("written")}" says that a value which is needed is not known.`,
  "records-not-a-number": () => "This is not a number.",
  "records-ambiguous-number": (p: Given<{ first: number; second: number }>) =>
    `This may mean ${p.number("first", 12)} or ${p.number("second", 12)}.`,
  "records-unknown-unit": (p: Given<{ unit: string }>) =>
    `The unit "${p.text("unit")}" is not known.`,
  "records-wrong-dimension": (p: Given<{ unit: string; needed: string }>) =>
    `The unit ${p.text("unit")} does not fit here; a unit that turns into ${p.text("needed")} is needed.`,
  "records-unit-not-wanted": (p: Given<{ unit: string }>) =>
    `No unit is expected here, but ${p.text("unit")} was written.`,
  "records-negative": (_: Given<{ value: number; unit: string }>) =>
    "This number cannot be negative.",
  "records-not-above": (p: Given<{ above: number; value: number; unit: string }>) =>
    `This number must be above ${p.number("above")}.`,
  "records-below": (p: Given<{ min: number; value: number; unit: string }>) =>
    `This number is below ${p.number("min")}, which is impossible.`,
  "records-too-large": (p: Given<{ max: number; value: number; unit: string }>) =>
    `This number is above ${p.number("max", 12)} ${p.text("unit")}, which is impossible.`,
  "records-time-does-not-exist": (p: Given<{ zone: string }>) =>
    `This time does not exist in ${p.text("zone")}: the clocks were put forward over it.`,
  "records-time-happens-twice": (p: Given<{ zone: string }>) =>
    `This time happened twice in ${p.text("zone")}: the clocks were put back over it.`,
  "records-other-date-style": (p: Given<{ style: string }>) =>
    `This is no date in the study's style (${p.text("style")}), though it is one in another.`,
  "records-not-a-time": (_: Given<{ style: string }>) => "This is not a date and time that exists.",
  "records-not-a-date": (_: Given<{ style: string }>) => "This is not a date that exists.",
  "records-unknown-choice": (p: Given<{ choices: readonly string[] }>) =>
    `This word is none of those known here: ${p.list("choices")}.`,
  "records-kind-as-note": (_: Given<{ written: string }>) =>
    "No kind of observation is called so here: the row is read as a note.",
  "records-order-as-written": (p: Given<{ value: string }>) =>
    `"${p.text("value")}" in an order could not be read; it is printed word for word and asked about.`,
  "records-broken-quote": () =>
    "A quotation mark opens here and does not close at the end of a cell, so the line cannot be cut into cells.",
  "records-row-too-long": () =>
    "This line is longer than a million characters; it is no row of a table.",
  "records-too-many-cells": (p: Given<{ cells: number; columns: number }>) =>
    `The line has ${p.count("cells", "cell")}, the header ${p.number("columns")}; which cell is which cannot be told.`,

  // Cells: read, with something to know.
  "records-time-of-day-missing": () => "Only a date was written; noon was taken as its time.",
  "records-choice-left-blank": (p: Given<{ written: string; choices: readonly string[] }>) =>
    `"${p.text("written")}" is none of the words known here (${p.list("choices")}); it was taken as not known.`,
  "records-remark-in-cell": (p: Given<{ written: string }>) =>
    `A remark stands behind the number ("${p.text("written")}"); the number was read and the remark was not.`,
  "records-power-of-ten": (p: Given<{ written: string; value: number }>) =>
    `"${p.text("written")}" is written with a power of ten and was read as ${p.number("value", 12)}; is that meant?`,
  "records-rough-date": (p: Given<{ written: string; from: string; to: string; about: number }>) =>
    `"${p.text("written")}" was read as ${p.text("from")} to ${p.text("to")}.`,
  "records-date-needs-arrival": () =>
    "This date can be read only with the day of arrival, which is not known.",

  // Rows against each other.
  "records-name-twice": (p: Given<{ name: string; line: number; file: string }>) =>
    `The name ${p.text("name")} was already given in line ${p.text("line")} of ${p.text("file")}.`,
  "records-unknown-animal": (p: Given<{ animal: string; close: string | null }>) =>
    `There is no animal ${p.text("animal")} in the table of animals.`,
  "records-animal-without-row": (p: Given<{ animal: string }>) =>
    `${p.text("animal")} has records and no row in the animals table: its rows are used, without age, arrival and species of its own.`,
  "records-animal-row-unusable": (
    p: Given<{ animal: string; row: string; line: number; file: string }>,
  ) =>
    `The row of ${p.text("animal")} in the animals table could not be used: "${p.text("row")}" (${p.text("file")}, line ${p.text("line")}).`,
  "records-several-animals": (p: Given<{ written: string; animals: readonly string[] }>) =>
    `"${p.text("written")}" names more than one animal (${p.list("animals")}): how much belongs to which cannot be told.`,
  "records-came-back": (p: Given<{ name: string; apart: string; line: number; file: string }>) =>
    `${p.text("name")} stands on this row and in line ${p.text("line")} of ${p.text("file")}: read as one animal that came back. Is that right?`,
  "records-id-used-again": (
    p: Given<{ name: string; apart: string; line: number; file: string }>,
  ) =>
    `${p.text("name")} stands on this row and in line ${p.text("line")} of ${p.text("file")}, which cannot be one animal; the earlier one, with its own rows, is called ${p.text("apart")} here.`,
  "records-born-after-rows": (p: Given<{ count: number; of: number }>) =>
    `${p.number("count", 9)} of ${p.count("of", "row")} of this animal ${p.agree("count", "lies", "lie")} before this birth date: the date was not used.`,
  "records-arrival-after-rows": (p: Given<{ count: number; of: number }>) =>
    `${p.number("count", 9)} of ${p.count("of", "row")} of this animal ${p.agree("count", "lies", "lie")} before this arrival: the date was not used.`,
  "records-order-far-ahead": (p: Given<{ at: number }>) =>
    `This order begins long after the newest record (${p.instant("at")}): is the date right?`,
  "records-date-alone": (p: Given<{ at: number }>) =>
    `No other row lies near this date (${p.instant("at")}): it is doubted and moves no page.`,
  "records-animal-and-group": () => "Both an animal and a group are named.",
  "records-no-animal-no-group": () => "Neither an animal nor a group is named.",
  "records-decision-about": (p: Given<{ n: number }>) =>
    p.raw("n") === 0
      ? "It is not said which row this decision is about."
      : "This decision is about more than one kind of row.",
  "records-correction-empty": () =>
    "This decision is to correct a row and gives no new value: the row stands as it was, and is still asked about.",
  "records-refused-more": (p: Given<{ refused: number; offered: number }>) =>
    `More was refused (${p.number("refused")} g) than offered (${p.number("offered")} g): check both numbers; perhaps the two cells were exchanged.`,
  "records-tare-not-below": (p: Given<{ tare: number; mass: number }>) =>
    `The tare (${p.number("tare", 9)} g) is not below the reading (${p.number("mass", 9)} g), so there is no net mass; perhaps a digit is missing.`,
  "records-ends-before-begin": (p: Given<{ end: string; begin: string }>) =>
    `The range ends (${p.text("end")}) before it begins (${p.text("begin")}).`,
  "records-span-backwards": (p: Given<{ end: number; begin: number }>) =>
    `It ends (${p.instant("end")}) before it begins (${p.instant("begin")}).`,
  "records-row-twice": (p: Given<{ line: number; file: string }>) =>
    `The same row already stands in line ${p.text("line")} of ${p.text("file")}.`,
  "records-same-key": (p: Given<{ line: number; file: string }>) =>
    `Line ${p.text("line")} of ${p.text("file")} is about the same thing at the same time and says something else; both were kept.`,
  "records-tare-left-blank": () =>
    "No tare is written here, and most weighings have one: there is no net mass, and the reading stands for no day.",
  "records-tare-unknown": (_: Given<{ written: string }>) =>
    "The tare is not known, so there is no net mass: the reading stands for no day.",
  "records-unknown-reference": (
    p: Given<{ close: string | null; name: string; column: string }>,
  ) =>
    p.raw("close") === null || p.raw("close") === undefined
      ? `"${p.text("name")}" in ${p.text("column")} is not in its own table.`
      : `"${p.text("name")}" in ${p.text("column")} is not in its own table; is it "${p.text("close")}"?`,
  "records-species-not-listed": (p: Given<{ species: string; listed: readonly string[] }>) =>
    `The species "${p.text("species")}" is not among those of study.json (${p.list("listed")}).`,
  "records-admitted-before-birth": (p: Given<{ born: string }>) =>
    `The arrival lies before the earliest birth date (${p.text("born")}).`,
  "records-outcome-without-date": (p: Given<{ outcome: string }>) =>
    `The outcome "${p.text("outcome")}" has no date: the animal is shown up to its last record.`,
  "records-date-without-outcome": (p: Given<{ out: string }>) =>
    `A date of the outcome (${p.text("out")}) stands here and no outcome: the animal is shown as in care.`,
  "records-outcome-before-arrival": (p: Given<{ out: string }>) =>
    `The outcome (${p.text("out")}) lies before the arrival.`,

  "records-mass-unusual": (p: Given<{ net: number; species: string; low: number; high: number }>) =>
    `A net mass of ${p.number("net", 6)} g is unusual for ${p.text("species")} of this age (${p.range("low", "high", 6)} g); look again.`,
  "records-mass-slip-likely": (
    p: Given<{ net: number; species: string; low: number; high: number }>,
  ) =>
    `A net mass of ${p.number("net", 6)} g is impossible for ${p.text("species")} of this age (${p.range("low", "high", 6)} g), but a wrong decimal place or unit would explain it.`,
  "records-mass-impossible": (
    p: Given<{ net: number; species: string; low: number; high: number }>,
  ) =>
    `A net mass of ${p.number("net", 6)} g is impossible for ${p.text("species")} of this age (${p.range("low", "high", 6)} g).`,
  "records-before-birth": (p: Given<{ date: string; at: number }>) =>
    `This lies before the animal's earliest birth date (${p.text("date")}).`,
  "records-after-death": (p: Given<{ date: string; at: number }>) =>
    `This lies after the animal's death (${p.text("date")}).`,
  "records-after-leaving": (p: Given<{ date: string; at: number }>) =>
    `This lies after the animal left (${p.text("date")}).`,
  "records-before-arrival": (p: Given<{ admitted: number; at: number }>) =>
    `This lies before the animal's arrival (${p.instant("admitted")}).`,
  "records-date-exchanged": (p: Given<{ day: string; exchanged: string }>) =>
    `The date ${p.text("day")} is out of the order of the file; with day and month exchanged (${p.text("exchanged")}) it would fit.`,
  "records-overlap": (p: Given<{ from: number; line: number; to: number }>) =>
    `This begins (${p.instant("from")}) before what stands in line ${p.text("line")} ends (${p.instant("to")}).`,
  "records-weaned-before-solid": (p: Given<{ at: number; solid: number }>) =>
    `Weaned (${p.instant("at")}) before the first solid was fed (${p.instant("solid")}).`,
  "records-date-style-doubtful": (p: Given<{ style: string; count: number; other: string }>) =>
    `The dates of this file contradict the study's style (${p.text("style")}): ${p.number("count")} can only be ${p.text("other")}. This one may be either.`,
  "records-date-style-of-file": (p: Given<{ count: number; other: string; style: string }>) =>
    `${p.number("count")} dates of this file can only be ${p.text("other")}, none only ${p.text("style")} as study.json says.`,

  // Whole tables.
  "records-blank-tares": (p: Given<{ count: number; of: number }>) =>
    `${p.number("count", 9)} of ${p.count("of", "weighing")} ${p.agree("count", "has", "have")} a blank tare. Set blank_tare_is_zero in study.json if blank means none; until then they stand for no day.`,
  "records-blank-refusals": (p: Given<{ count: number; of: number }>) =>
    `${p.number("count", 9)} of ${p.count("of", "feed")} ${p.agree("count", "has", "have")} a blank refusal, so what was eaten is a range. Set blank_refusal_is_none in study.json if blank means none.`,

  // What a layout may be, and what speaks for it.
  "propose-agreed": () => "As study.json says.",
  "propose-heading": (p: Given<{ lines: readonly number[] }>) =>
    `The heading stands in line ${p.list("lines")}.`,
  "propose-one-animal": (p: Given<{ animal: string; text: string }>) =>
    `All rows are about ${p.text("animal")}: "${p.text("text")}" stands above them or is the name.`,
  "propose-animal-above": (p: Given<{ count: number; first: string }>) =>
    `${p.count("count", "line")} ${p.agree("count", "names", "name")} the animal of the rows below them (${p.text("first")} first).`,
  "propose-day-above": (p: Given<{ count: number; first: string }>) =>
    `${p.count("count", "line")} ${p.agree("count", "is", "are")} a day alone (${p.text("first")}), and the rows below hold clock times.`,
  "propose-one-day": (p: Given<{ date: string; text: string }>) =>
    `All rows are of ${p.text("date")}, by "${p.text("text")}".`,
  "propose-across": (
    p: Given<{
      count: number;
      headings: string;
      first: string;
      last: string;
      amount: string;
      guessed: boolean;
      year: number | null;
    }>,
  ) =>
    `${p.number("count")} headings are ${p.text("headings")} (${p.text("first")} to ${p.text("last")}); each cell below is ${p.text("amount")}.` +
    (p.raw("guessed") === true
      ? " No unit is written; the numbers look like kilograms: check it."
      : "") +
    (p.raw("year") === null ? "" : ` Days without a year are of ${p.text("year")}.`),
  "propose-as-above": (p: Given<{ columns: readonly string[]; count: number; of: number }>) =>
    `A blank under ${p.list("columns")} means what stands above it (${p.number("count", 9)} of ${p.count("of", "row")}).`,
  "propose-foreign-marks": (
    p: Given<{
      columns: readonly string[];
      mark: string;
      means: string;
      example: string;
      read: string;
    }>,
  ) =>
    p.text("means") === "decimal"
      ? `The ${p.text("mark")} under ${p.list("columns")} is the decimal mark: ${p.text("example")} is ${p.text("read")}.`
      : `The ${p.text("mark")} under ${p.list("columns")} groups thousands: ${p.text("example")} is ${p.text("read")}.`,
  "propose-day-numbers": (
    p: Given<{ columns: readonly string[]; from: string; number: string; date: string | null }>,
  ) =>
    `Numbers under ${p.list("columns")} are a spreadsheet's days since ${p.text("from")}: ${p.text("number")} is ${p.text("date")}.`,
  "propose-dates": (
    p: Given<{ columns: readonly string[]; style: string; count: number; either: number }>,
  ) =>
    `Dates under ${p.list("columns")} are written ${p.text("style")}: ${p.number("count", 9)} can only be that, ${p.number("either", 9)} may be either.`,
  "propose-eaten-of-offered": (
    p: Given<{ column: string; cell: string; offered: number; refused: number }>,
  ) =>
    `Cells under ${p.text("column")} hold eaten and offered: "${p.text("cell")}" is ${p.number("offered")} offered, ${p.number("refused")} refused.`,
  "propose-twelve-hours": (p: Given<{ column: string; count: number }>) =>
    `Times under ${p.text("column")} are of a clock of twelve hours without am and pm; the order of the rows tells which half of the day (it passes noon on ${p.count("count", "day")}).`,
  "propose-night-dates": (p: Given<{ until: string; column: string }>) =>
    `Times before ${p.text("until")} stand under the date of the evening before (${p.text("column")}); they are of the next day.`,

  // What to do about a row set aside.
  "suggest-fill-cell": () => "Write the value, or leave the row set aside.",
  "suggest-half-of-day": () => "Write am or pm behind the time, or use 24 hours.",
  "suggest-clock-layout": () =>
    'Run "gramline check FOLDER": it proposes how to read them. If the times are right as they stand, say so in study.json under layouts: { "layout": "times as written" }.',
  "suggest-night-layout": () =>
    'Write the date of the morning, or run "gramline check FOLDER", which proposes how to read a whole file. If the times are right as they stand, put the rows in the order of time, or say so in study.json under layouts: { "layout": "times as written" }.',
  "suggest-night-date": () =>
    "Put the row behind the evening it belongs to, under that evening's date, before the hour named as until in study.json; or put it into a file of its own.",
  "suggest-add-density": (p: Given<{ diet: string | null }>) =>
    p.raw("diet") === null
      ? "Name the diet, or write grams."
      : `Write density_g_per_ml for ${p.text("diet")} in the table of diets, or write grams.`,
  "suggest-number": () => "Write a number alone, and words under notes.",
  "suggest-number-inside": (p: Given<{ number: string }>) =>
    `If ${p.text("number")} is meant, write it alone and the rest under notes.`,
  "suggest-known-unit": () => "Write g, kg, lb or oz, or no unit at all.",
  "suggest-one-reading": () =>
    "Write it without a mark between thousands, with the study's decimal mark.",
  "suggest-error-cell": () =>
    "Repair the formula in the spreadsheet, or write the value itself; save and read again.",
  "suggest-signs-alike": (p: Given<{ number: string }>) =>
    `Letters stand among the digits: is ${p.text("number")} meant?`,
  "suggest-unit-of": (p: Given<{ needed: string }>) =>
    `Write it in a unit that turns into ${p.text("needed")}.`,
  "suggest-map-column": (p: Given<{ column: string; table: string }>) =>
    `Rename the column, or say under columns in study.json which one is ${p.text("column")}.`,
  "suggest-bare-number": () => "Write the number without a unit.",
  "suggest-without-sign": (p: Given<{ size: number }>) => `Is ${p.number("size", 9)} meant?`,
  "suggest-check-dates": (p: Given<{ date: string }>) =>
    `Check this date, the animal, and the date ${p.text("date")}.`,
  "suggest-exchanged-date": (p: Given<{ exchanged: string; date: string }>) =>
    `Check the date; with day and month exchanged it would be ${p.text("exchanged")}.`,
  "suggest-check-value": (
    _: Given<{ net?: number; low?: number; high?: number; species?: string }>,
  ) => "Check decimal mark and unit against the page it was copied from.",
  "suggest-time-skipped": () => "Check the clock; perhaps one hour later is meant.",
  "suggest-offset": (p: Given<{ first: string; second: string }>) =>
    `Write ${p.text("first")} or ${p.text("second")}.`,
  "suggest-date-style": (_: Given<{ count?: number; other?: string; style: string }>) =>
    "Write the date as 2025-05-02, or correct date_style in study.json if all dates look so.",
  "suggest-time-form": () => "Write date and time as 2025-05-02 06:10.",
  "suggest-date-form": () => "Write the date as 2025-05-02.",
  "suggest-choices": (p: Given<{ choices: readonly string[] }>) =>
    `Write one of: ${p.list("choices")}.`,
  "suggest-close-quote": () => "Close the quotation mark, or take it away.",
  "suggest-quote-delimiter": () =>
    "A cell that holds the separating mark must stand in quotation marks.",
  "suggest-another-name": () =>
    "Give one of them another name, or remove the one that is not right.",
  "suggest-row-each": () => "Write a row for each animal with its own amount.",
  "suggest-add-animal": (p: Given<{ animal: string; close: string | null }>) =>
    `Correct the name, or add ${p.text("animal")} to the animals.`,
  "suggest-close-name": (p: Given<{ close: string | null }>) => `Is ${p.text("close")} meant?`,
  "suggest-animal-or-group": () => "Name exactly one: the animal or the group.",
  "suggest-decision-about": () =>
    "Give one of mass_g (a weighing), offered_g (a feed) or kind and value (an observation), as written in the row.",
  "suggest-correction": () =>
    "Write the right value under new_mass_g, new_offered_g, new_value or another of the new columns, or write keep or leave out.",
  "suggest-remove-repeat": () => "Remove one of the two rows if it was entered twice.",
} satisfies Readonly<Record<string, Sentence>>;
