/** What takes away what is half done, while something is. */
const cleanings = new Set<() => void>();

/**
 * Says how something half done is taken away if the user ends the command before it is done.
 *
 * @param clean runs at once and waits for nothing; it may run twice.
 * @returns to be called when it is done.
 * @example const done = whenInterrupted(() => rmSync(part, { force: true }))
 */
export function whenInterrupted(clean: () => void): () => void {
  cleanings.add(clean);
  return () => {
    cleanings.delete(clean);
  };
}

/** 128 and the number of the signal, as shells report it. */
const codes = { SIGINT: 130, SIGTERM: 143, SIGHUP: 129 } as const;
/** What the system is doing at this moment for a process is done after so long. */
const settledMs = 50;

/**
 * Ends this process when the user ends it (Ctrl-C, a closed terminal), and leaves nothing
 * half done behind. For commands alone: in a notebook the same signal is the stop button.
 * Where somebody else listens to the signal, the end is theirs.
 */
export function leaveNothingWhenInterrupted(): void {
  for (const [signal, code] of Object.entries(codes))
    process.on(signal, () => {
      if (process.listenerCount(signal) > 1) return;
      endHalfDone();
      // A file that was being made meanwhile is there now; nothing of ours goes on in between.
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, settledMs);
      endHalfDone();
      process.exit(code);
    });
}

/** Takes away whatever is half done now, what is begun last first. */
export function endHalfDone(): void {
  for (const clean of [...cleanings].reverse())
    try {
      clean();
    } catch {
      // The next run takes it away.
    }
}
