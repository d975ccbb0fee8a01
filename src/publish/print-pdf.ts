import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, dirname, join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { sizeLimits } from "../core/size-limits.js";
import { UsageError } from "../core/usage-error.js";
import { pdfSet, writeSet } from "./write-set.js";

/**
 * Prints a page of a report to PDF with a browser of this machine (Chromium,
 * Chrome or Edge). The PDF carries the time it was printed, so unlike the other
 * files it differs from run to run.
 *
 * @throws UsageError when there is no such browser or it does not print.
 */
export async function printPdf(page: string, pdf: string): Promise<void> {
  const browser = findBrowser();
  if (browser === null) {
    throw new UsageError({
      needed: "Chromium, Chrome or Edge, to print",
      came: "none was found",
      where: "--pdf",
      todo: "Open the page in any browser and print it to PDF there.",
    });
  }
  const profile = mkdtempSync(join(tmpdir(), "gramline-print-"));
  const printed = join(profile, "printed.pdf");
  try {
    const run = spawnSync(
      browser,
      [
        "--headless",
        "--disable-gpu",
        "--no-first-run",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
        // Only root needs it; the page is our own and fetches nothing.
        ...(process.getuid?.() === 0 ? ["--no-sandbox"] : []),
        `--user-data-dir=${profile}`,
        "--no-pdf-header-footer",
        `--print-to-pdf=${printed}`,
        pathToFileURL(resolve(page)).href,
      ],
      { encoding: "utf8", timeout: sizeLimits.pdfSeconds * 1000 },
    );
    if (run.status !== 0 || !existsSync(printed)) {
      throw new UsageError({
        needed: "the browser to print the page",
        came: run.stderr?.trim().split("\n").at(-1) ?? "it gave no answer",
        where: browser,
        todo: "Open the page in the browser and print it to PDF there.",
      });
    }
    await writeSet(dirname(pdf), pdfSet, new Map([[basename(pdf), readFileSync(printed)]]));
  } finally {
    rmSync(profile, { recursive: true, force: true });
  }
}

/** The first browser that is there; null when none is. */
export function findBrowser(): string | null {
  const inPath = [
    "chromium",
    "chromium-browser",
    "google-chrome",
    "google-chrome-stable",
    "chrome",
  ];
  if (process.platform === "linux") {
    return inPath.find((name) => spawnSync(name, ["--version"]).status === 0) ?? null;
  }
  const placed =
    process.platform === "darwin"
      ? [
          "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
          "/Applications/Chromium.app/Contents/MacOS/Chromium",
          "/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
        ]
      : ["ProgramFiles", "ProgramFiles(x86)", "LocalAppData"].flatMap((name) => {
          const folder = process.env[name];
          return folder === undefined
            ? []
            : [
                join(folder, "Google", "Chrome", "Application", "chrome.exe"),
                join(folder, "Microsoft", "Edge", "Application", "msedge.exe"),
              ];
        });
  return placed.find((path) => existsSync(path)) ?? null;
}
