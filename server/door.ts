import type { IncomingMessage } from 'node:http';
import { isIP } from 'node:net';
import { isOurOwn } from './origin.ts';

export interface Refused {
  status: number;
  code: string;
  sentence: string;
}

/** Why a request goes no further than the door; null for one that may be answered. */
export function refusalOf(request: IncomingMessage, origin: string | null): Refused | null {
  if (!isReadable(request))
    return { status: 400, code: 'malformed', sentence: 'This address cannot be read.' };
  if (!isOurHost(request, origin))
    return {
      status: 421,
      code: 'other host',
      sentence: 'Nobody is reached here under this name. Whoever runs it sets LARKSTEP_ORIGIN.',
    };
  if (!isSafe(request) && !isOurOwn(request, origin))
    return { status: 403, code: 'other origin', sentence: 'This was asked for by another site.' };
  return null;
}

/** A path whose letters can be read and are letters; the page renderer would answer others with a fault of its own. */
function isReadable({ url = '' }: IncomingMessage): boolean {
  try {
    const path = decodeURIComponent(url.split('?', 1)[0]!);
    // biome-ignore lint/suspicious/noControlCharactersInRegex: no path of ours holds one, and some programs end a name at one
    return path.startsWith('/') && !/[\u0000-\u001f\u007f\\]|(^|\/)\.\.?(\/|$)/.test(path);
  } catch {
    return false;
  }
}

/**
 * Whether the request names this server. A page of another site may let its own name lead to this computer (DNS rebinding);
 * then it is of one origin with us in the browser's eyes, but the name it asks for is still its own. Without a set origin
 * only names that nobody can register are taken: numbers, names without a dot, and those of a local network.
 */
export function isOurHost({ headers, rawHeaders }: IncomingMessage, origin: string | null): boolean {
  const named = rawHeaders.filter((word, index) => index % 2 === 0 && word.toLowerCase() === 'host').length;
  if (named !== 1) return false;
  const host = headers.host ?? '';
  if (origin !== null && host === new URL(origin).host) return true;
  const name = host.replace(/:\d+$/, '').toLowerCase();
  if (isIP(name.replace(/^\[(.*)\]$/, '$1')) !== 0) return true;
  return /^[a-z0-9_-]+$/.test(name) || /^[a-z0-9._-]+\.(localhost|local|lan|internal|home\.arpa)$/.test(name);
}

const isSafe = ({ method }: IncomingMessage): boolean => method === 'GET' || method === 'HEAD';
