export interface Memory {
  /** Bytes that the process holds of the system's. */
  resident: number;
  /** Bytes that are in use inside it, after collecting what is not. */
  used: number;
}

/** Lets a bench ask this process for its memory, or for the milliseconds that processors have worked for it. */
export function answerMemory(): void {
  process.on('message', (asked) => {
    if (asked === 'worked') {
      const { user, system } = process.cpuUsage();
      process.send!((user + system) / 1000);
      return;
    }
    globalThis.gc?.();
    globalThis.gc?.();
    const { rss, heapUsed, external } = process.memoryUsage();
    process.send!({ resident: rss, used: heapUsed + external } satisfies Memory);
  });
}
