export interface Memory {
  /** Bytes that the process holds of the system's. */
  resident: number;
  /** Bytes that are in use inside it, after collecting what is not. */
  used: number;
  /** Milliseconds that processors have worked for it. */
  worked: number;
}

/** Lets a bench ask this process for its memory. */
export function answerMemory(): void {
  process.on('message', () => {
    const { user, system } = process.cpuUsage();
    globalThis.gc?.();
    globalThis.gc?.();
    const { rss, heapUsed, external } = process.memoryUsage();
    process.send!({
      resident: rss,
      used: heapUsed + external,
      worked: (user + system) / 1000,
    } satisfies Memory);
  });
}
