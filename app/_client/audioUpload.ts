import { bad, good, type Result } from '@/lib/core/result.ts';
import { audioAnswer } from '@/lib/protocol/api.ts';

export interface Upload {
  done: Promise<Result<{ id: string; bytes: number }>>;
  stop(): void;
}

/** Sends a file's bytes as they are, and says how far. (`fetch` cannot tell how much has been sent.) */
export function upload(address: string, file: Blob, report: (share: number) => void): Upload {
  const request = new XMLHttpRequest();
  const done = new Promise<Result<{ id: string; bytes: number }>>((resolve) => {
    request.upload.onprogress = ({ loaded, total }) => report(total > 0 ? loaded / total : 0);
    request.onerror = () =>
      resolve(bad('offline', 'The connection broke off; nothing was stored. Please try again.'));
    request.onabort = () => resolve(bad('stopped', 'Stopped; nothing was changed.'));
    request.onload = () => resolve(answerOf(request));
    request.open('POST', address);
    request.setRequestHeader('content-type', 'application/octet-stream');
    request.send(file);
  });
  return { done, stop: () => request.abort() };
}

function answerOf(request: XMLHttpRequest): Result<{ id: string; bytes: number }> {
  const body = parsed(request.responseText);
  const stored = audioAnswer.safeParse(body);
  if (request.status < 300 && stored.success) return good(stored.data);
  const { sentence } = (body ?? {}) as { sentence?: string };
  return bad('refused', sentence ?? 'The server could not store the file. Please try again.');
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}
