import { randomBytes } from "node:crypto";
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { cannotWrite } from "../publish/write-whole.js";

/** Where a kernel is to listen, and the key both sides sign with. */
export interface KernelConnection {
  readonly shellPort: number;
  readonly iopubPort: number;
  readonly key: string;
  /** The connection file that the kernel reads, and the folder it lies in. */
  readonly file: string;
  readonly folder: string;
}

/** Chooses free ports and a key and writes the connection file, readable by this user only. */
export async function makeConnection(): Promise<KernelConnection> {
  const [shellPort = 0, iopubPort = 0, controlPort, stdinPort, heartbeatPort] = await freePorts(5);
  const key = randomBytes(24).toString("hex");
  reapFolders();
  const folder = inWords(tmpdir(), () => mkdtempSync(join(tmpdir(), folderOf(process.pid))));
  const file = join(folder, "connection.json");
  const contents = {
    transport: "tcp",
    ip: "127.0.0.1",
    shell_port: shellPort,
    iopub_port: iopubPort,
    control_port: controlPort,
    stdin_port: stdinPort,
    hb_port: heartbeatPort,
    key,
    signature_scheme: "hmac-sha256",
  };
  inWords(folder, () => writeFileSync(file, JSON.stringify(contents), { mode: 0o600 }));
  return { shellPort, iopubPort, key, file, folder };
}

/** The folder for what is passing lies where the system says (TMPDIR). */
function inWords<T>(folder: string, write: () => T): T {
  try {
    return write();
  } catch (error) {
    throw cannotWrite(join(folder, "connection.json"), error as NodeJS.ErrnoException);
  }
}

/** How the kernel is started: Node itself, with the warning about requiring a module switched off. */
export function kernelCommand(file: string, before: readonly string[] = []): string[] {
  const tslab = dirname(createRequire(import.meta.url).resolve("tslab/package.json"));
  return [
    process.execPath,
    "--disable-warning=ExperimentalWarning",
    ...before,
    join(tslab, "bin", "tslab"),
    "kernel",
    `--config-path=${file}`,
  ];
}

/** Its owner's number stands in the folder's name, so that it can be told who left it behind. */
const folderOf = (pid: number) => `gramline-kernel-${pid}-`;

/** Removes the folders of owners that are gone: kernel and owner were killed in one stroke. */
function reapFolders(): void {
  for (const name of readdirSync(tmpdir())) {
    const owner = /^gramline-kernel-(\d+)-/.exec(name)?.[1];
    if (owner === undefined || isAlive(Number(owner))) continue;
    try {
      rmSync(join(tmpdir(), name), { recursive: true, force: true });
    } catch {
      // Of another user of this machine, or on a disk that can only be read: not ours to take away.
    }
  }
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // Somebody else's process is alive, too.
    return (error as NodeJS.ErrnoException).code === "EPERM";
  }
}

/** Ports of this machine that are free now, all different. */
async function freePorts(count: number): Promise<number[]> {
  const servers = await Promise.all(
    Array.from({ length: count }, async () => {
      const server = createServer();
      await new Promise<void>((done, reject) => {
        server.once("error", reject);
        server.listen(0, "127.0.0.1", done);
      });
      return server;
    }),
  );
  const ports = servers.map((server) => (server.address() as { port: number }).port);
  await Promise.all(servers.map((server) => new Promise((done) => server.close(done))));
  return ports;
}
