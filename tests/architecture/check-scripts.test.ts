import { spawnSync } from "node:child_process";
import { readdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { expect, it } from "vitest";

/** They run only when everything is checked: a script that cannot be read is found before. */
const folder = fileURLToPath(new URL("../../.ci", import.meta.url));

it.each(readdirSync(folder).filter((name) => name.endsWith(".mjs")))("%s can be read", (name) => {
  const { status, stderr } = spawnSync(process.execPath, ["--check", `${folder}/${name}`], {
    encoding: "utf8",
  });
  expect([status, stderr]).toEqual([0, ""]);
});

it("run can be read", () => {
  const { status, stderr } = spawnSync("bash", ["-n", `${folder}/run`], { encoding: "utf8" });
  expect([status, stderr]).toEqual([0, ""]);
});
