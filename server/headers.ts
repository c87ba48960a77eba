import { randomBytes } from 'node:crypto';
import type { IncomingMessage, ServerResponse } from 'node:http';
import { PEER } from '../lib/access/session.ts';
import { networkOf, type Proxies, peerOf } from './peer.ts';

function policy(nonce: string, dev: boolean): string {
  const rules = {
    'default-src': "'self'",
    'script-src': `'self' 'nonce-${nonce}' 'strict-dynamic' 'wasm-unsafe-eval'${dev ? " 'unsafe-eval'" : ''}`,
    'style-src': `'self' ${dev ? "'unsafe-inline'" : `'nonce-${nonce}'`}`,
    'img-src': "'self' blob: data:",
    'media-src': "'self' blob:",
    'font-src': "'self'",
    'connect-src': "'self'",
    'worker-src': "'self'",
    'object-src': "'none'",
    'base-uri': "'self'",
    'form-action': "'self'",
    'frame-ancestors': "'none'",
  };
  return Object.entries(rules)
    .map(([name, value]) => `${name} ${value}`)
    .join('; ');
}

/** On the request too, from which the page renderer takes the nonce for its own scripts. */
export function setHeaders(
  request: IncomingMessage,
  response: ServerResponse,
  { dev, proxies }: { dev: boolean; proxies: Proxies },
): void {
  const csp = policy(randomBytes(16).toString('base64'), dev);
  request.headers['content-security-policy'] = csp;
  request.headers[PEER] = networkOf(peerOf(request, proxies));
  response.setHeader('Content-Security-Policy', csp);
  response.setHeader('X-Content-Type-Options', 'nosniff');
  // Some addresses hold a secret, and nobody needs to be told of the others.
  response.setHeader('Referrer-Policy', 'no-referrer');
}
