import { dirname } from "node:path";
import { sizeLimits } from "../core/size-limits.js";
import {
  joinedText,
  type MimeBundle,
  type NotebookCell,
  type NotebookFile,
  type NotebookOutput,
  splitText,
} from "../report/renderers/notebook-file.js";
import type { JupyterMessage } from "./jupyter-message.js";
import { type NotebookKernel, startKernel } from "./notebook-kernel.js";

export interface RunNotebookOptions {
  readonly signal?: AbortSignal;
  /** Longest time for one cell, in seconds. Default: as `sizeLimits`. */
  readonly cellSeconds?: number;
  /** Longest time for the whole run, the kernel's start included, in seconds. Default: as `sizeLimits`. */
  readonly notebookSeconds?: number;
  /** How long to wait after the last cell for errors that come late, in ms. Default 250. */
  readonly lateMs?: number;
  readonly onCell?: (done: number, total: number) => void;
  /**
   * A kernel that runs already, in the notebook's folder. It knows what ran in it before, and
   * stays unless the run is cancelled. Default: one of its own, which ends with the run.
   */
  readonly kernel?: NotebookKernel;
}

export interface NotebookRun {
  readonly notebook: NotebookFile;
  readonly seconds: number;
  /** `null` when every cell ran clean. */
  readonly failure: CellFailure | null;
}

export interface CellFailure {
  /** 1-based among the code cells; null when no single cell is to blame. */
  readonly cell: number | null;
  readonly source: string;
  readonly why: string;
}

/**
 * Executes the cells of a notebook in order in a fresh kernel (or the one given), with
 * the notebook's folder as working folder, and returns the executed copy. Stops at
 * the first failure: an error, a type error, any text on stderr, a late
 * rejection, a kernel that died, a time-out.
 */
export async function runNotebook(
  notebook: NotebookFile,
  path: string,
  options: RunNotebookOptions = {},
): Promise<NotebookRun> {
  const started = Date.now();
  const code = notebook.cells.filter((cell) => cell.cell_type === "code");
  const executed = new Map<NotebookCell, NotebookCell>();
  const ended = (failure: CellFailure | null, language?: Readonly<Record<string, unknown>>) => ({
    notebook: {
      ...notebook,
      nbformat_minor: Math.max(5, notebook.nbformat_minor),
      metadata: language ? { ...notebook.metadata, language_info: language } : notebook.metadata,
      cells: notebook.cells.map((cell, index) => withId(executed.get(cell) ?? cell, index)),
    },
    seconds: (Date.now() - started) / 1000,
    failure,
  });
  const whole = options.notebookSeconds ?? sizeLimits.notebookSeconds;
  let kernel: NotebookKernel;
  try {
    kernel =
      options.kernel ??
      (await startKernel(dirname(path), Math.min(sizeLimits.kernelStartSeconds, whole)));
  } catch (error) {
    return ended({ cell: null, source: "", why: (error as Error).message });
  }
  const onAbort = () => void kernel.stop();
  options.signal?.addEventListener("abort", onAbort);
  const [lateBefore, saidBefore] = [kernel.late.length, kernel.processOutput().length];
  const late = () =>
    lateTrouble(kernel.late.slice(lateBefore), kernel.processOutput().slice(saidBefore));
  let last = 0;
  try {
    for (const [index, cell] of code.entries()) {
      options.signal?.throwIfAborted();
      last = index;
      options.onCell?.(index, code.length);
      const outputs = new OutputList();
      const source = joinedText(cell.source);
      const fail = (why: string) => ended({ cell: index + 1, source, why }, kernel.languageInfo);
      let why: string | null = null;
      let count: number | null = null;
      const left = whole - (Date.now() - started) / 1000;
      const seconds = Math.min(options.cellSeconds ?? sizeLimits.cellSeconds, left);
      try {
        if (left <= 0) throw new Error(tooLong(whole));
        const reply = await kernel.execute(source, (message) => outputs.add(message), seconds);
        count = reply.executionCount;
        if (reply.status !== "ok") {
          why =
            withoutKernelLines(outputs.stderr()) || `the cell ended with status "${reply.status}"`;
        }
      } catch (error) {
        const { message } = error as Error;
        why = seconds === left && /time-out/.test(message) ? tooLong(whole) : message;
      }
      executed.set(cell, {
        ...cell,
        outputs: outputs.finished(count),
        execution_count: count,
      });
      if (why === null && outputs.stderr().trim() !== "") {
        why = `the cell wrote to stderr:\n${withoutKernelLines(outputs.stderr())}`;
      }
      why ??= late();
      if (why !== null) return fail(why);
    }
    await new Promise((done) => setTimeout(done, options.lateMs ?? 250));
    const why = late();
    if (why !== null) {
      return ended(
        { cell: last + 1, source: joinedText(code[last]?.source), why },
        kernel.languageInfo,
      );
    }
    options.onCell?.(code.length, code.length);
    return ended(null, kernel.languageInfo);
  } finally {
    options.signal?.removeEventListener("abort", onAbort);
    if (options.kernel === undefined) await kernel.stop();
  }
}

const tooLong = (seconds: number) =>
  `the whole notebook took longer than ${seconds} s (time-out; --notebook-seconds allows more)`;

/** Errors that came after their cell had ended, or that never belonged to one. */
function lateTrouble(late: readonly JupyterMessage[], outside: string): string | null {
  const text = late
    .filter(
      (message) => message.content["name"] === "stderr" || message.header.msg_type === "error",
    )
    .map((message) => String(message.content["text"] ?? message.content["evalue"] ?? ""))
    .join("");
  const all = withoutKernelLines(`${text}${outside}`);
  return all === "" ? null : `an error came late, after its cell had ended:\n${all}`;
}

/**
 * The part of a trace that is about the notebook: lines inside the kernel and Node help nobody,
 * and of a person's mistake the sentence alone does.
 */
function withoutKernelLines(trace: string): string {
  const mistake = /^(?:Uncaught )?UsageError: (.*?)\n(?:\s+at .*\n)+\s+needed: /ms.exec(trace)?.[1];
  if (mistake !== undefined) return mistake.trim();
  return trace
    .split("\n")
    .filter((line) => !/^\s+at .*(node_modules[\\/]tslab|node:(vm|internal))/.test(line))
    .join("\n")
    .trim();
}

/** Collects what a cell shows; neighbouring pieces of one stream become one output. */
class OutputList {
  readonly #outputs: NotebookOutput[] = [];
  /** Where an output stands that is drawn anew. */
  readonly #placeOf = new Map<string, number>();
  #stderr = "";

  add(message: JupyterMessage): void {
    const { content } = message;
    switch (message.header.msg_type) {
      case "stream": {
        const name = String(content["name"]);
        const text = String(content["text"]);
        if (name === "stderr") this.#stderr += text;
        const before = this.#outputs.at(-1);
        if (before?.output_type === "stream" && before.name === name) {
          this.#outputs[this.#outputs.length - 1] = {
            ...before,
            text: joinedText(before.text) + text,
          };
        } else this.#outputs.push({ output_type: "stream", name, text });
        break;
      }
      case "update_display_data": {
        const at = this.#placeOf.get(displayId(content));
        const before = at === undefined ? undefined : this.#outputs[at];
        if (at !== undefined && before !== undefined && "data" in before)
          this.#outputs[at] = { ...before, data: content["data"] as Record<string, unknown> };
        break;
      }
      case "display_data":
      case "execute_result":
        if (displayId(content) !== "") this.#placeOf.set(displayId(content), this.#outputs.length);
        this.#outputs.push({
          output_type: message.header.msg_type,
          data: content["data"] as Record<string, unknown>,
          metadata: (content["metadata"] ?? {}) as Record<string, unknown>,
        });
        break;
      case "error":
        this.#outputs.push({
          output_type: "error",
          ename: String(content["ename"]),
          evalue: String(content["evalue"]),
          traceback: (content["traceback"] ?? []) as string[],
        });
        this.#stderr += `${String(content["ename"])}: ${String(content["evalue"])}`;
        break;
    }
  }

  stderr(): string {
    return this.#stderr;
  }

  finished(count: number | null): NotebookOutput[] {
    // A bar whose work has ended leaves nothing behind.
    const left = this.#outputs.filter((o) => !("data" in o) || !isEmpty(o.data));
    return left.map((output) =>
      output.output_type === "stream"
        ? { ...output, text: splitText(joinedText(output.text)) }
        : output.output_type === "execute_result"
          ? { ...output, execution_count: count }
          : output,
    );
  }
}

/** The name under which an output is drawn anew; empty where it is not. */
function displayId(content: Readonly<Record<string, unknown>>): string {
  const transient = content["transient"] as { readonly display_id?: unknown } | undefined;
  return typeof transient?.display_id === "string" ? transient.display_id : "";
}

const isEmpty = (data: MimeBundle) => Object.keys(data).length === 1 && data["text/plain"] === "";

/** Every cell of nbformat 4.5 has an id. */
function withId(cell: NotebookCell, index: number): NotebookCell {
  return cell.id === undefined ? { id: `cell-${index + 1}`, ...cell } : cell;
}
