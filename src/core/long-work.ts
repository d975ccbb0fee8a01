/**
 * What every long computation takes: a seed when it draws random numbers, a
 * signal to cancel it, and somewhere to report progress.
 */
export interface LongWork {
  readonly seed?: number;
  readonly signal?: AbortSignal;
  readonly onProgress?: (progress: Progress) => void;
}

export interface Progress {
  readonly done: number;
  readonly total: number;
  /** What is being done now, in plain words. */
  readonly doing: string;
}

/** Throws the signal's reason if the work was cancelled. Call once per step. */
export function stopIfCancelled(signal: AbortSignal | undefined): void {
  if (signal?.aborted) throw signal.reason ?? new DOMException("Cancelled", "AbortError");
}
