type Load = () => Promise<unknown>;

const parts = new Set<Load>();
/** Addresses of what workers run. */
const files = new Set<string>();

/** Says that a part of the program comes after what is first seen, so that it is fetched before the network may be gone. */
export function laterPart<L extends Load>(load: L): L {
  parts.add(load);
  return load;
}

/** What a worker says first: which files it runs. */
export interface Begun {
  files: string[];
}

/** The same of a worker: it is begun once, and ended as soon as it has said which files it runs. */
export function laterWorker(hire: () => Worker): () => Worker {
  let begun: Promise<void> | null = null;
  const begin = () =>
    new Promise<void>((resolve, reject) => {
      const worker = hire();
      worker.onmessage = ({ data }: MessageEvent<Begun>) => {
        for (const file of data.files) files.add(file);
        worker.terminate();
        resolve();
      };
      worker.onerror = (event) => {
        event.preventDefault();
        worker.terminate();
        begun = null;
        reject(new Error(event.message));
      };
    });
  laterPart(() => {
    begun ??= begin();
    return begun;
  });
  return hire;
}

/**
 * Fetches all that comes later, one part after the other, and what these in turn bring later. What does not come for want of a
 * network comes when it is used.
 * @param rest waits until the page has time: to run a program for the first time is a long task
 */
export async function fetchLaterParts(rest: () => Promise<void>): Promise<void> {
  for (const load of parts) {
    await rest();
    await load().catch(() => undefined);
  }
}

/** What this page's workers run, of those that were begun. */
export const filesOfWorkers = (): string[] => [...files];
