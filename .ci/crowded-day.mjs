// Writes a study FOLDER out of the demo in which it all comes at once: five of the animals in
// care are in danger, or fourteen animals are in care, each with what was written of it.
//   node .ci/crowded-day.mjs dangers|fourteen FOLDER
import { appendFileSync, cpSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";

const [what, folder] = process.argv.slice(2);
cpSync("data-demo", folder, { recursive: true });

const dangers = [
  "O25-05,2025-07-17 03:00,temperature,34.1,degC,",
  "O25-06,2025-07-17 03:05,stool,bloody,,",
  "S25-01,2025-07-17 03:10,temperature,41.2,degC,",
  "O25-02,2025-07-17 03:15,behaviour,cannot be roused,,",
];

/** Every row of these animals once more, for an animal of another name. */
function twins(ids) {
  for (const name of readdirSync(folder).filter((file) => file.endsWith(".csv"))) {
    const lines = readFileSync(join(folder, name), "utf8").trimEnd().split("\n");
    const more = lines.flatMap((line) => {
      const id = ids.find((each) => line.startsWith(`${each},`));
      return id === undefined ? [] : [line.replace(id, `${id}b`)];
    });
    if (more.length > 0) writeFileSync(join(folder, name), `${[...lines, ...more].join("\n")}\n`);
  }
}

if (what === "dangers") appendFileSync(join(folder, "observations.csv"), `${dangers.join("\n")}\n`);
else twins(["O25-02", "O25-05", "O25-06", "S25-01", "S25-02"]);
