import type { Given, Sentence } from "../wording.js";

/** Sentences of the `species` room, by notice code. */
export const speciesMessages = {
  "species-unknown": (p: Given<{ species: string; known: readonly string[] }>) =>
    `There is no profile for "${p.text("species")}" (there is one for ${p.list("known")}). The empty template stands in: nothing is taken from another species. Enter your own numbers under "species_overrides" in study.json; the README shows how.`,
  "species-overridden": (p: Given<{ species: string; entries: readonly string[] }>) =>
    `The profile of the ${p.text("species")} uses your own numbers for ${p.list("entries")}.`,
  "species-override-not-entries": (p: Given<{ species: string; came: string }>) =>
    `The overrides for the ${p.text("species")} are not a list of named entries (${p.text("came")}), so none is used. Write them as { "bodyTemperature": [37, 38] }.`,
  "species-override-unknown-entry": (p: Given<{ entry: string; species: string }>) =>
    `The override "${p.text("entry")}" for the ${p.text("species")} is not an entry of a species profile and is not used. Check its spelling.`,
  "species-override-fahrenheit": (p: Given<{ entry: string; species: string; came: string }>) =>
    `The override "${p.text("entry")}" for the ${p.text("species")} (${p.text("came")}) can only be in degrees Fahrenheit and is not used. Write { "range": [97, 101], "unit": "degF" }, or the numbers in degrees Celsius.`,
  "species-override-of-nobody": (p: Given<{ species: string; here: readonly string[] }>) =>
    `"species_overrides" in study.json has entries for "${p.text("species")}", and no animal of the study is one (there ${p.raw("here")?.length === 1 ? "is" : "are"} ${p.list("here")}): they are not used. Check the spelling.`,
  "species-override-unreadable": (p: Given<{ entry: string; species: string; came: string }>) =>
    `The override "${p.text("entry")}" for the ${p.text("species")} cannot be read (${p.text("came")}) and is not used. Give a number, a pair [low, high], or an entry with a unit that can be turned into the profile's own; age bands in order of age.`,
} satisfies Readonly<Record<string, Sentence>>;
