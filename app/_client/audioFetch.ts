import { bad, good, type Result } from '@/lib/core/result.ts';

/** Bytes of a file that the person chose; a file on a stick that was pulled, or in a cloud without network, cannot be read. */
async function ofFile(file: Blob): Promise<Result<ArrayBuffer>> {
  try {
    return good(await file.arrayBuffer());
  } catch {
    return bad('unreadable', 'This file could not be read. Please choose it again.');
  }
}

/** Bytes from the server, with the share that has arrived when the length is known. */
async function ofAddress(
  address: string,
  signal: AbortSignal,
  report: (share: number | null) => void,
): Promise<Result<ArrayBuffer>> {
  try {
    const response = await fetch(address, { signal });
    if (!response.ok || !response.body) {
      const body = (await response.json().catch(() => null)) as { sentence?: string } | null;
      return bad(
        'not fetched',
        body?.sentence ?? 'The recording could not be fetched. Please press play to try again.',
      );
    }
    const total = Number(response.headers.get('content-length')) || 0;
    const parts: Uint8Array<ArrayBuffer>[] = [];
    let arrived = 0;
    for (const reader = response.body.getReader(); ; ) {
      const { done, value } = await reader.read();
      if (done) break;
      parts.push(value);
      arrived += value.length;
      report(total > 0 ? Math.min(1, arrived / total) : null);
    }
    return good(await new Blob(parts).arrayBuffer());
  } catch {
    if (signal.aborted) return bad('stopped', 'Stopped; nothing was changed.');
    return bad('offline', 'The recording is not on this device and there is no connection just now.');
  }
}

export const fetchBytes = { ofFile, ofAddress };
