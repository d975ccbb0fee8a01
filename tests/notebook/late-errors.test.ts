import { execFile } from "node:child_process";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { describe, expect, it } from "vitest";

const run = promisify(execFile);
const built = new URL("../../dist/notebook/late-errors.js", import.meta.url).href;

/** In a process of its own: a late rejection would otherwise end the test runner. */
async function inProcess(body: string): Promise<string> {
  const program = `import { assertClean, watchForLateErrors } from ${JSON.stringify(built)};
    try { ${body} } catch (error) { console.log("threw: " + error.message); }`;
  const { stdout } = await run(process.execPath, ["--input-type=module", "-e", program], {
    cwd: fileURLToPath(new URL("../..", import.meta.url)),
  });
  return stdout;
}

describe("the clean-run assertion", () => {
  it("throws for a rejection that nobody awaited, and asks for the missing await", async () => {
    const said = await inProcess(
      'watchForLateErrors(); void Promise.reject(new Error("forgotten")); await assertClean();',
    );
    expect(said).toMatch(/threw: 1 error came after the cell had ended \(is an await missing\?\)/);
    expect(said).toMatch(/forgotten/);
  });

  it("passes a clean run and refuses to vouch where nothing was watched", async () => {
    expect(await inProcess("watchForLateErrors(); await assertClean(10);")).toMatch(/^Clean run/);
    expect(await inProcess("await assertClean(10);")).toMatch(/was not called in the first cell/);
  });
});
