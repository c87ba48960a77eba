import { randomBytes, timingSafeEqual } from 'node:crypto';
import type { IncomingMessage, ServerResponse } from 'node:http';
import { renewedCookies } from '../lib/access/cookie.ts';
import { hashOf } from '../lib/access/links.ts';
import { METRICS, PEER, SECURE } from '../lib/access/session.ts';
import type { Environment } from './environment.ts';
import { isForwardedHttps, isOfThisComputer, networkOf, peerOf } from './peer.ts';

/** A year; of this host only, since others of its domain may be somebody else's. */
const HSTS = 'max-age=31536000';

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

type Settings = Pick<Environment, 'origin' | 'proxies' | 'metricsToken'> & { dev: boolean };

/**
 * What every answer carries, and what the pages are told of a request by headers of ours: whatever a client says there is
 * overwritten. The policy is on the request too, from which the page renderer takes the nonce for its own scripts.
 */
export function setHeaders(request: IncomingMessage, response: ServerResponse, settings: Settings): void {
  const { origin, proxies, metricsToken } = settings;
  const { headers } = request;
  const isSecure = origin === null ? isForwardedHttps(request, proxies) : origin.startsWith('https:');
  const csp = policy(randomBytes(16).toString('base64'), settings.dev);
  headers['content-security-policy'] = csp;
  headers[PEER] = networkOf(peerOf(request, proxies));
  mark(request, SECURE, isSecure);
  mark(request, METRICS, isOfThisComputer(request) || bears(request, metricsToken));
  response.setHeader('Content-Security-Policy', csp);
  response.setHeader('X-Content-Type-Options', 'nosniff');
  // Some addresses hold a secret, and nobody needs to be told of the others.
  response.setHeader('Referrer-Policy', 'no-referrer');
  // A page that opens ours, or is opened by it, has no hold of its window.
  response.setHeader('Cross-Origin-Opener-Policy', 'same-origin');
  if (!isSecure) return;
  response.setHeader('Strict-Transport-Security', HSTS);
  const renewed = isVisit(request) ? renewedCookies(headers.cookie) : [];
  if (renewed.length > 0) response.setHeader('Set-Cookie', renewed);
}

function mark({ headers }: IncomingMessage, name: string, holds: boolean): void {
  if (holds) headers[name] = 'yes';
  else delete headers[name];
}

/** Whether somebody opens a page: what routes answer sets cookies of its own. */
const isVisit = ({ method, url = '', headers }: IncomingMessage): boolean =>
  method === 'GET' && !/^\/(api|join)\//.test(url) && headers.accept?.includes('text/html') === true;

/** Whether the request bears this token (RFC 6750, section 2.1); compared in the same time whatever is wrong with it. */
function bears({ headers }: IncomingMessage, token: string | null): boolean {
  const [, borne] = /^Bearer (\S+)$/i.exec(headers.authorization ?? '') ?? [];
  if (token === null || borne === undefined) return false;
  return timingSafeEqual(Buffer.from(hashOf(borne)), Buffer.from(hashOf(token)));
}
