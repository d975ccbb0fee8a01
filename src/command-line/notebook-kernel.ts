import { spawn } from "node:child_process";
import { randomBytes } from "node:crypto";
import { rmSync } from "node:fs";
import { sizeLimits } from "../core/size-limits.js";
import { whenInterrupted } from "../records/files/when-interrupted.js";
import { askUntilAnswered } from "./ask-until-answered.js";
import { endsWithParent } from "./end-with-parent.js";
import { encodeMessage, type JupyterMessage, makeRequest } from "./jupyter-message.js";
import { kernelCommand, makeConnection } from "./kernel-connection.js";
import { receiveMessages } from "./receive-messages.js";

/** What a cell's run sends back while it runs: a stream, a picture, an error. */
export type OutputMessage = JupyterMessage;

export interface CellReply {
  readonly status: "ok" | "error" | "abort";
  readonly executionCount: number | null;
}

/** A running TypeScript notebook kernel. */
export interface NotebookKernel {
  readonly languageInfo: Readonly<Record<string, unknown>>;
  /** Runs one piece of code; `onOutput` is called for everything it shows. */
  execute(
    code: string,
    onOutput: (message: OutputMessage) => void,
    timeoutSeconds: number,
  ): Promise<CellReply>;
  /** Output that came after the cell that caused it had ended. */
  readonly late: OutputMessage[];
  /** What the process itself wrote outside any cell. */
  processOutput(): string;
  stop(): Promise<void>;
}

/**
 * Starts a kernel in a folder and waits until it answers. Speaks to it over
 * ZeroMQ on free ports of this machine only.
 */
export async function startKernel(
  folder: string,
  timeoutSeconds = sizeLimits.kernelStartSeconds,
): Promise<NotebookKernel> {
  const { Dealer, Subscriber } = await import("zeromq");
  const connection = await makeConnection();
  const { key, folder: temporary } = connection;
  const session = randomBytes(12).toString("hex");
  const [command, ...args] = kernelCommand(connection.file, endsWithParent(temporary));
  const child = spawn(command!, args, { cwd: folder, stdio: ["ignore", "pipe", "pipe"] });
  const done = whenInterrupted(() => {
    child.kill("SIGKILL");
    rmSync(temporary, { recursive: true, force: true });
  });
  let outside = "";
  child.stdout.on("data", (data) => {
    outside += data;
  });
  child.stderr.on("data", (data) => {
    outside += data;
  });
  let end: (error: Error) => void = () => {};
  const death = new Promise<never>((_, reject) => {
    end = reject;
    child.once("exit", (code, signal) => {
      reject(new Error(`the kernel ended by itself (${signal ?? `exit code ${code}`})`));
    });
    child.once("error", (error) => reject(new Error(`the kernel did not start: ${error.message}`)));
  });
  death.catch(() => {});

  const shell = new Dealer({ linger: 0 });
  const iopub = new Subscriber({ linger: 0 });
  iopub.subscribe();
  shell.connect(`tcp://127.0.0.1:${connection.shellPort}`);
  iopub.connect(`tcp://127.0.0.1:${connection.iopubPort}`);

  const waiting = new Map<string, Waiting>();
  const late: OutputMessage[] = [];
  void receiveMessages(shell, key, (message) => {
    waiting.get(message.parentHeader.msg_id ?? "")?.replied(message);
  });
  void receiveMessages(iopub, key, (message) => {
    const asked = waiting.get(message.parentHeader.msg_id ?? "");
    if (message.header.msg_type === "status") {
      if (message.content["execution_state"] === "idle") asked?.idle();
    } else if (asked !== undefined) asked.output(message);
    else late.push(message);
  });

  const ask: Ask = async (type, content, onOutput, seconds) => {
    const request = makeRequest(type, content, session);
    const id = request.header.msg_id;
    const { answer, heard, clear } = awaitAnswer(onOutput, seconds);
    waiting.set(id, heard);
    shell.send(encodeMessage(request, key)).catch(() => {});
    return Promise.race([answer, death]).finally(() => {
      clear();
      waiting.delete(id);
    });
  };

  const stop = async () => {
    // Whoever still waits for an answer must hear that none will come.
    end(new Error("the kernel was stopped"));
    if (child.exitCode === null && child.signalCode === null) {
      const ended = new Promise<void>((done) => child.once("exit", () => done()));
      child.kill("SIGKILL");
      await ended;
    }
    shell.close();
    iopub.close();
    rmSync(temporary, { recursive: true, force: true });
    done();
  };

  try {
    const info = await askUntilAnswered(ask, timeoutSeconds);
    return {
      languageInfo: (info.content["language_info"] ?? {}) as Record<string, unknown>,
      late,
      processOutput: () => outside,
      stop,
      execute: (code, onOutput, seconds) => execute(ask, code, onOutput, seconds),
    };
  } catch (error) {
    await stop();
    const said = outside.trim() === "" ? "" : `\nThe kernel wrote:\n${outside.trim()}`;
    throw new Error(`${(error as Error).message}${said}`);
  }
}

/** Sends one request and waits for its reply. */
type Ask = (
  type: string,
  content: Readonly<Record<string, unknown>>,
  onOutput: (message: OutputMessage) => void,
  seconds: number,
) => Promise<JupyterMessage>;

async function execute(
  ask: Ask,
  code: string,
  onOutput: (message: OutputMessage) => void,
  seconds: number,
): Promise<CellReply> {
  const { content } = await ask(
    "execute_request",
    {
      code,
      silent: false,
      store_history: true,
      user_expressions: {},
      allow_stdin: false,
      stop_on_error: true,
    },
    onOutput,
    seconds,
  );
  const count = content["execution_count"];
  return {
    status: content["status"] as CellReply["status"],
    executionCount: typeof count === "number" ? count : null,
  };
}

/** The answer to a request, what is told to whoever waits for it, and the end of its clock. */
function awaitAnswer(output: (message: OutputMessage) => void, seconds: number) {
  let timer: NodeJS.Timeout | undefined;
  let heard: Waiting = { replied: () => {}, idle: () => {}, output };
  const answer = new Promise<JupyterMessage>((done, reject) => {
    let reply: JupyterMessage | null = null;
    let idle = false;
    // A cell is over when its reply came and the kernel said it is idle again:
    // the two travel on different sockets in no fixed order.
    const finish = () => {
      if (reply !== null && idle) done(reply);
    };
    heard = {
      replied: (message) => {
        reply = message;
        finish();
      },
      idle: () => {
        idle = true;
        finish();
      },
      output,
    };
    timer = setTimeout(
      () => reject(new Error(`no answer within ${seconds} s (time-out)`)),
      // A clock that is asked for more than this goes off at once.
      Math.min(seconds * 1000, 2 ** 31 - 1),
    );
  });
  return { answer, heard, clear: () => clearTimeout(timer) };
}

interface Waiting {
  replied(message: JupyterMessage): void;
  idle(): void;
  output(message: JupyterMessage): void;
}
