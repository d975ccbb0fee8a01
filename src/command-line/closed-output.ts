/**
 * Whoever reads what a command prints may stop reading (`gramline check S | head`): the
 * command goes on and ends as it would have, and what nobody reads is let go of.
 *
 * @example keepWritingToNobody()
 */
export function keepWritingToNobody(): void {
  for (const stream of [process.stdout, process.stderr])
    stream.on("error", (error: NodeJS.ErrnoException) => {
      if (error.code !== "EPIPE") throw error;
    });
}
