import type { IncomingMessage } from 'node:http';
import type { Environment } from './environment.ts';

/**
 * Whether a request comes from our own pages. A browser names the page's origin in all that another site could misuse;
 * what sends none is no browser, and needs the cookie all the same.
 */
export function isOurOwn(request: IncomingMessage, origin: string | null): boolean {
  const from = request.headers.origin;
  if (from === undefined) return true;
  if (origin !== null && from === origin) return true;
  try {
    return new URL(from).host === request.headers.host;
  } catch {
    return false;
  }
}

/** Where people find it: the address that was set, else this computer's own. */
export function addressOf({ origin, host }: Pick<Environment, 'origin' | 'host'>, port: number): string {
  const everywhere = host === '0.0.0.0' || host === '::';
  return origin ?? `http://${everywhere ? 'localhost' : host}:${port}`;
}
