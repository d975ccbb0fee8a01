import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { doctor, doctorText, nodeCheck } from "../../src/command-line/doctor.js";
import { writeKernelSpec } from "../../src/command-line/kernel-spec.js";

const root = fileURLToPath(new URL("../..", import.meta.url));

describe("doctor", () => {
  it("takes the versions of Node that can require a module, and no others", () => {
    // Node's documentation of require(esm): without a flag from 20.19.0 and 22.12.0 on.
    for (const good of ["20.19.0", "20.20.2", "22.12.0", "24.0.0"]) {
      expect(nodeCheck(good).state, good).toBe("ok");
    }
    for (const old of ["18.20.0", "20.18.3", "21.7.0", "22.11.0"]) {
      expect(nodeCheck(old), old).toMatchObject({ state: "missing" });
      expect(nodeCheck(old).fix).toMatch(/Install Node/);
    }
  });

  it("finds the kernel, the font and places to write, and prints a fix for what is missing", async () => {
    const checks = await doctor(root);
    const state = (what: string) => checks.find((check) => check.what === what)?.state;
    expect(state("notebook kernel")).toBe("ok");
    expect(state("notebooks here")).toBe("ok");
    expect(checks.find((check) => check.what === "this folder")?.found).toMatch(/no study/);
    expect(state("chart font")).toBe("ok");
    expect(state("write access")).toBe("ok");
    for (const check of checks.filter((each) => each.state !== "ok")) {
      expect(check.fix, check.what).not.toBe("");
    }
    const words = doctorText([
      { what: "Jupyter", state: "optional", found: "not installed", fix: "Install it." },
    ]);
    expect(words).toBe("optional  Jupyter  not installed\n            fix: Install it.");
  });
});

describe("the kernel's description for Jupyter", () => {
  it("lies in the project's own folder and names this Node and this kernel", async () => {
    const elsewhere = mkdtempSync(join(tmpdir(), "gramline-spec-"));
    try {
      const folder = await writeKernelSpec(elsewhere);
      expect(folder.startsWith(join(elsewhere, "node_modules"))).toBe(true);
      const spec = JSON.parse(
        readFileSync(join(folder, "kernels", "tslab", "kernel.json"), "utf8"),
      );
      expect(spec.argv[0]).toBe(process.execPath);
      expect(spec.argv.at(-1)).toBe("--config-path={connection_file}");
      expect(spec.language).toBe("typescript");
    } finally {
      rmSync(elsewhere, { recursive: true, force: true });
    }
  });
});
