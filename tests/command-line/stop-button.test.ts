import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type NotebookKernel, startKernel } from "../../src/command-line/notebook-kernel.js";
import { endHalfDone } from "../../src/records/files/when-interrupted.js";

/**
 * The stop button sends an interrupt, which the description of the kernel asks to be
 * the signal SIGINT ("interrupt_mode", Jupyter client documentation, "Kernel specs");
 * seen with a real kernel.
 */
let kernel: NotebookKernel;
beforeAll(async () => {
  kernel = await startKernel(fileURLToPath(new URL("notebooks", import.meta.url)));
});
afterAll(endHalfDone);

/** What a display or a stream carries, of "Messaging in Jupyter". */
interface Said {
  readonly type: string;
  readonly content: {
    readonly text: string;
    readonly data: Readonly<Record<string, string>>;
    readonly transient: { readonly display_id?: string };
  };
}

describe("long work in a notebook", () => {
  const begin = `import * as g from "gramline"; import type { LongWork } from "gramline"; let steps = 0;
    const work = async (most: number, { signal, onProgress }: LongWork) => {
      for (; steps < most; steps++) {
        if (signal?.aborted) throw signal.reason;
        onProgress?.({ done: steps, total: most, doing: "a step" });
        await new Promise((done) => setTimeout(done, 20));
      }
    };`;
  const ask = async (code: string) => {
    const said: Said[] = [];
    const { status } = await kernel.execute(
      code,
      ({ header, content }) => said.push({ type: header.msg_type, content } as Said),
      60,
    );
    return { status, said };
  };

  it("draws one bar anew and takes it away", async () => {
    await ask(begin);
    const { status, said } = await ask(
      "steps = 0; await g.notebook.withProgress((long) => work(25, long));",
    );
    expect(status).toBe("ok");
    const shown = said.filter(({ type }) => type.endsWith("display_data"));
    expect(shown.map(({ type }) => type).slice(0, 2)).toEqual([
      "display_data",
      "update_display_data",
    ]);
    expect(shown[0]!.content.data["text/html"]).toContain("<progress");
    expect(shown.at(-1)!.content.data).toEqual({ "text/plain": "" });
    expect(new Set(shown.map(({ content }) => content.transient.display_id)).size).toBe(1);
  });

  it("is stopped by what the stop button sends: the cell ends, and nothing goes on unseen", async () => {
    const { status, said } = await ask(
      `steps = 0; setTimeout(() => process.kill(process.pid, "SIGINT"), 900);
       await g.notebook.withProgress((long) => work(100000, long));`,
    );
    expect([status, said.map(({ content }) => content.text ?? "").join("")]).toEqual([
      "error",
      expect.stringMatching(/Stopped|Interrupted/),
    ]);
    expect(said.some(({ type }) => type === "update_display_data")).toBe(true);
    const count = async () => {
      const { said: after } = await ask("console.log(steps);");
      return after.map(({ content }) => content.text ?? "").join("");
    };
    // The kernel passes over what was asked right after a cell that failed.
    let first = "";
    for (let n = 0; n < 50 && first === ""; n++) {
      first = await count();
      await new Promise((done) => setTimeout(done, 50));
    }
    await new Promise((done) => setTimeout(done, 200));
    expect(await count()).toBe(first);
    expect(first).toMatch(/^\d+\n$/);
    expect(Number(first)).toBeLessThan(1000);
  });
});
