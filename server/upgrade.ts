import { type IncomingMessage, STATUS_CODES } from 'node:http';
import type { Duplex } from 'node:stream';
import { refusalOf } from './door.ts';
import { isOurOwn } from './origin.ts';

/** Letters that an address may have: those for sync have some hundred. */
const LONGEST_TARGET = 2048;

/** Where an upgrade leads and whether it may; the status with which it is refused otherwise, before anything opens. */
export function targetOf(request: IncomingMessage, origin: string | null): URL | number {
  const { method, url = '' } = request;
  // Two slashes begin the name of another host, which need not even be one.
  if (method !== 'GET' || url.length > LONGEST_TARGET || url.startsWith('//')) return 400;
  const refused = refusalOf(request, origin);
  if (refused) return refused.status === 400 ? 400 : 403;
  if (!isOurOwn(request, origin)) return 403;
  return URL.canParse(url, 'http://localhost') ? new URL(url, 'http://localhost') : 400;
}

/** Answers an upgrade that leads nowhere, and ends its line. */
export function refuseUpgrade(line: Duplex, status: number): void {
  line.once('finish', () => line.destroy());
  line.end(`HTTP/1.1 ${status} ${STATUS_CODES[status]}\r\nConnection: close\r\nContent-Length: 0\r\n\r\n`);
}
