/**
 * What every long computation takes: a seed when it draws random numbers, a
 * signal to cancel it, and somewhere to report progress.
 */
export interface LongWork {
  readonly seed?: number;
  readonly signal?: CancelSignal;
  readonly onProgress?: (progress: Progress) => void;
}

/**
 * What is read of an `AbortSignal`. Declared here so that the public
 * declarations need neither the types of Node nor those of a browser.
 */
export interface CancelSignal {
  readonly aborted: boolean;
  readonly reason?: unknown;
  addEventListener(
    type: "abort",
    listener: () => void,
    options?: { readonly once?: boolean },
  ): void;
  removeEventListener(type: "abort", listener: () => void): void;
}

export interface Progress {
  readonly done: number;
  readonly total: number;
  /** What is being done now, in plain words. */
  readonly doing: string;
}

/** Throws the signal's reason if the work was cancelled. Call once per step. */
export function stopIfCancelled(signal: CancelSignal | undefined): void {
  if (signal?.aborted) throw signal.reason ?? new DOMException("Cancelled", "AbortError");
}

/** What was given of these three, to be passed on to work inside the work. */
export function longWorkOf({ signal, onProgress, seed }: LongWork): LongWork {
  return {
    ...(signal === undefined ? {} : { signal }),
    ...(onProgress === undefined ? {} : { onProgress }),
    ...(seed === undefined ? {} : { seed }),
  };
}
