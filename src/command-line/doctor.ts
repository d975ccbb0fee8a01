import {
  accessSync,
  constants,
  existsSync,
  mkdirSync,
  mkdtempSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { startKernel } from "./notebook-kernel.js";
import { findJupyter, jupyterFix } from "./notebooks-in-jupyter.js";

export interface DoctorCheck {
  readonly what: string;
  /** "optional": works without, with less comfort. */
  readonly state: "ok" | "missing" | "optional";
  readonly found: string;
  /** What to do about it; empty when nothing is to be done. */
  readonly fix: string;
}

/** Checks Node, packages, kernel, Jupyter, fonts and write access. */
export async function doctor(projectRoot: string): Promise<DoctorCheck[]> {
  return [
    nodeCheck(process.versions.node),
    buildCheck(projectRoot),
    await kernelCheck(projectRoot),
    jupyterCheck(),
    ...fontChecks(projectRoot),
    writeCheck(join(projectRoot, "out")),
    writeCheck(tmpdir()),
  ];
}

/** The checks as lines for a terminal. */
export function doctorText(checks: readonly DoctorCheck[]): string {
  const width = Math.max(...checks.map((check) => check.what.length));
  const word = { ok: "ok      ", missing: "MISSING ", optional: "optional" };
  return checks
    .map((check) => {
      const line = `${word[check.state]}  ${check.what.padEnd(width)}  ${check.found}`;
      return check.fix === "" ? line : `${line}\n            fix: ${check.fix}`;
    })
    .join("\n");
}

/** Node must be able to require a module: 20.19 or newer on the 20 line, 22.12 or newer after it. */
export function nodeCheck(version: string): DoctorCheck {
  const [major = 0, minor = 0] = version.split(".").map(Number);
  const good = major > 22 || (major === 22 && minor >= 12) || (major === 20 && minor >= 19);
  return {
    what: "Node",
    state: good ? "ok" : "missing",
    found: version,
    fix: good ? "" : "Install Node 20.19 or newer (or 22.12 or newer) from nodejs.org.",
  };
}

function buildCheck(projectRoot: string): DoctorCheck {
  const built = existsSync(join(projectRoot, "dist", "index.js"));
  const linked = existsSync(join(projectRoot, "node_modules", "gramline", "package.json"));
  return {
    what: "library",
    state: built && linked ? "ok" : "missing",
    found: built ? (linked ? "built and linked" : "built, not linked") : "not built",
    fix: built && linked ? "" : "Run: node src/command-line/before-run.mjs",
  };
}

async function kernelCheck(projectRoot: string): Promise<DoctorCheck> {
  const started = Date.now();
  try {
    const kernel = await startKernel(projectRoot, 60);
    let said = "";
    const reply = await kernel.execute(
      "console.log(6 * 7)",
      (message) => {
        said += String(message.content["text"] ?? "");
      },
      60,
    );
    await kernel.stop();
    if (reply.status !== "ok" || said.trim() !== "42")
      throw new Error(`it answered "${said.trim()}"`);
    const seconds = ((Date.now() - started) / 1000).toFixed(1);
    return { what: "notebook kernel", state: "ok", found: `answers in ${seconds} s`, fix: "" };
  } catch (error) {
    return {
      what: "notebook kernel",
      state: "missing",
      found: (error as Error).message.split("\n")[0]!,
      fix: "Delete node_modules and run npm install (not with --ignore-scripts).",
    };
  }
}

function jupyterCheck(): DoctorCheck {
  const found = findJupyter();
  return {
    what: "Jupyter",
    state: found === null ? "optional" : "ok",
    found: found?.version ?? "not installed; npm start works without it",
    fix: found === null ? jupyterFix() : "",
  };
}

function fontChecks(projectRoot: string): DoctorCheck[] {
  const font = join(projectRoot, "src", "charts", "fonts", "Inter-Regular.otf");
  const present = existsSync(font);
  const checks: DoctorCheck[] = [
    {
      what: "chart font",
      state: present ? "ok" : "missing",
      found: present ? "Inter comes with the project" : "the font file is gone",
      fix: present ? "" : "Restore src/charts/fonts from the project.",
    },
  ];
  try {
    createRequire(import.meta.url)("@resvg/resvg-js");
    checks.push({ what: "PNG pictures", state: "ok", found: "can be drawn", fix: "" });
  } catch {
    checks.push({
      what: "PNG pictures",
      state: "optional",
      found: "the drawing package has no build for this machine; SVG works",
      fix: "Word reports then carry no pictures; run them on another machine.",
    });
  }
  return checks;
}

function writeCheck(folder: string): DoctorCheck {
  try {
    mkdirSync(folder, { recursive: true });
    accessSync(folder, constants.W_OK);
    const trial = mkdtempSync(join(folder, "gramline-write-"));
    writeFileSync(join(trial, "trial"), "1");
    rmSync(trial, { recursive: true });
    return { what: "write access", state: "ok", found: folder, fix: "" };
  } catch (error) {
    return {
      what: "write access",
      state: "missing",
      found: `${folder}: ${(error as Error).message}`,
      fix: `Make ${folder} writable for you, or free disk space.`,
    };
  }
}
