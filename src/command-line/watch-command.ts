import type { Command } from "commander";
import { UsageError } from "../core/usage-error.js";
import { filesOfStudy } from "../records/files/read-study.js";
import { type AnsweringOptions, answering, sayAnswer } from "./answering.js";
import { type ReadStudy, runCheck } from "./check.js";
import { sayLines } from "./on-screen.js";
import { civilDay, wholeNumber } from "./option-values.js";
import { today } from "./today.js";
import type { Made } from "./watch-study.js";

interface WatchCommandOptions extends AnsweringOptions {
  readonly on?: string;
  readonly port: string;
  readonly withoutPeople: boolean;
}

/** The folder is looked at so often. */
const everyMs = 100;

/** `gramline watch FOLDER`: the day's pages, made again whenever something is saved. */
export function watchCommand(program: Command): void {
  answering(program.command("watch"), "each making as a JSON object on a line of its own")
    .description(
      "show the day's board and the hand-over in a browser of this machine, made again whenever a sheet is saved; nothing is written",
    )
    .argument("<folder>", "folder with study.json and the tables")
    .option("--on <day>", "feeding day to look at (default: the last, as time goes on)")
    .option("--port <number>", "port on 127.0.0.1 (default: any that is free)", "0")
    .option("--without-people", "show only what names nobody", false)
    .addHelpText("after", "\nEnds with Ctrl-C (exit code 0).")
    .action(async (folder: string, options: WatchCommandOptions) => {
      const port = wholeNumber("--port", options.port);
      const onDay = options.on === undefined ? {} : { onDay: civilDay("--on", options.on) };
      // A folder that is not there will not come; records that cannot be read yet may.
      await filesOfStudy(folder);
      const { servePages } = await import("./serve-pages.js");
      const { watchStudy } = await import("./watch-study.js");
      let announce = async () => {};
      const watch = watchStudy(folder, {
        ...onDay,
        withoutPeople: options.withoutPeople,
        now: Date.now,
        onMade: async (made) => {
          // The page first: what the terminal says takes as long again to work out.
          await announce();
          await sayMade(folder, made, options);
        },
      });
      const server = await servePages(watch.current, port).catch((error) => {
        throw taken(error as NodeJS.ErrnoException, options.port);
      });
      announce = server.changed;
      let ended = () => {};
      const end = new Promise<void>((done) => {
        ended = done;
      });
      for (const signal of ["SIGINT", "SIGTERM"] as const) process.once(signal, () => ended());
      let going = true;
      const looking = (async () => {
        await watch.look();
        // Beside the looking: whatever is saved meanwhile goes first.
        void watch.rehearse();
        // Without its address nothing could be opened: it is said in any case.
        if (options.quiet && !options.json) sayLines(server.address);
        else
          sayAnswer(options, { kind: "watch", address: server.address }, [
            `\nOpen ${server.address}  (this machine only; ends with Ctrl-C)`,
          ]);
        while (going) {
          await Promise.race([end, new Promise((go) => setTimeout(go, everyMs))]);
          if (going) await watch.look();
        }
      })();
      await Promise.race([end, looking]);
      going = false;
      watch.stop();
      await server.close();
    });
}

/** What came of one making: the screen of a check and how long it took, one JSON object, or only what is wrong. */
async function sayMade(folder: string, made: Made, options: WatchCommandOptions): Promise<void> {
  const { read, seconds, trouble, byClock } = made;
  if (options.json) {
    const study = options.withoutPeople ? null : (read?.study.counts ?? null);
    sayAnswer(options, { kind: "watch-made", seconds, trouble, byClock, tables: study }, []);
    return;
  }
  if (trouble === null && (byClock || options.quiet)) return;
  if (trouble === null && read !== null)
    sayLines(await screen(folder, read, options.withoutPeople));
  const time = new Date().toTimeString().slice(0, 8);
  sayLines(`\n${time}  ${trouble ?? `pages made in ${seconds.toFixed(1)} s`}`);
}

/** The screen of `gramline check`, of the files as they were read. */
async function screen(folder: string, read: ReadStudy, withoutPeople: boolean): Promise<string> {
  const { text } = await runCheck(folder, {
    read,
    out: null,
    json: false,
    saveMapping: false,
    withoutPeople,
    today: today(),
    width: process.stdout.columns ?? 100,
  });
  return `\n${text}`;
}

function taken(error: NodeJS.ErrnoException, port: string): Error {
  if (
    error.code !== "EADDRINUSE" &&
    error.code !== "EACCES" &&
    error.code !== "ERR_SOCKET_BAD_PORT"
  )
    return error;
  return new UsageError({
    needed: "a port of this machine that is free",
    came: `${port} cannot be had (${error.code})`,
    where: "--port",
    todo: "Leave --port out, or name another from 1024 to 65535.",
  });
}
