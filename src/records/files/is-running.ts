/**
 * Whether a process of this machine is there.
 *
 * @example isRunning(process.pid) // true
 */
export function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // A process of somebody else is there, though no signal may be sent to it.
    return (error as NodeJS.ErrnoException).code === "EPERM";
  }
}
