import type { IncomingMessage } from 'node:http';
import { BlockList, isIP } from 'node:net';
import { bad, good, type Result } from '../lib/core/result.ts';

/** Which hops of a request's way are trusted to tell the truth about the one before: how many, or which addresses. */
export type Proxies = number | BlockList;

/** Reads `1`, or `10.0.0.0/8, 192.168.1.7`; nothing trusts nobody. */
export function readProxies(text: string): Result<Proxies> {
  const words = text.split(',').map((word) => word.trim());
  if (words.length === 1 && /^\d$/.test(words[0]!)) return good(Number(words[0]));
  const list = new BlockList();
  for (const word of words) {
    const [address = '', bits, rest] = word.split('/');
    const kind = isIP(address);
    const prefix = bits === undefined ? (kind === 4 ? 32 : 128) : Number(bits);
    if (kind === 0 || rest !== undefined || !Number.isInteger(prefix) || bits === '')
      return bad('proxy', `${word} is no address`);
    if (prefix < 0 || prefix > (kind === 4 ? 32 : 128)) return bad('proxy', `${word} has too many bits`);
    list.addSubnet(address, prefix, kind === 4 ? 'ipv4' : 'ipv6');
  }
  return good(list);
}

/**
 * The address that a request came from, for limits. Each proxy adds to X-Forwarded-For the address that it was asked by, so
 * the header is read from its end, as far as the ones who wrote there are trusted; what a client says of itself stands
 * before that and counts for nothing.
 */
export function peerOf({ socket, headers }: IncomingMessage, proxies: Proxies): string {
  const nearest = plain(socket.remoteAddress ?? '');
  if (proxies === 0) return nearest;
  const told = String(headers['x-forwarded-for'] ?? '').split(',');
  let peer = nearest;
  for (let hop = 1; told.length > 0; hop++) {
    const trusted = typeof proxies === 'number' ? hop <= proxies : isIn(proxies, peer);
    if (!trusted) break;
    const before = plain(told.pop()!);
    if (isIP(before) === 0) break;
    peer = before;
  }
  return peer;
}

/** Whether a trusted proxy says that it was asked over https. */
export function isForwardedHttps({ socket, headers }: IncomingMessage, proxies: Proxies): boolean {
  const nearest = plain(socket.remoteAddress ?? '');
  const trusted = typeof proxies === 'number' ? proxies > 0 : isIn(proxies, nearest);
  const told = String(headers['x-forwarded-proto'] ?? '').split(',');
  return trusted && told.at(-1)!.trim().toLowerCase() === 'https';
}

/** Headers by which a proxy tells of whom it asks for (RFC 7239 and the customs before it). */
const TOLD_BY_PROXIES = [
  'forwarded',
  'via',
  'x-forwarded-for',
  'x-forwarded-host',
  'x-forwarded-proto',
  'x-real-ip',
];

/** Whether a program of this very computer asks, and no proxy for somebody else. */
export function isOfThisComputer({ socket, headers }: IncomingMessage): boolean {
  const nearest = plain(socket.remoteAddress ?? '');
  const isLoopback = nearest === '::1' || /^127\./.test(nearest);
  return isLoopback && TOLD_BY_PROXIES.every((name) => headers[name] === undefined);
}

/** The part of an address that one household or one attacker has to itself: all of IPv4, the first 64 bits of IPv6. */
export function networkOf(address: string): string {
  if (isIP(address) !== 6) return address;
  const [head = '', tail] = address.split('::', 2) as [string, string | undefined];
  const first = head === '' ? [] : head.split(':');
  const last = tail === undefined || tail === '' ? [] : tail.split(':');
  const zeros = tail === undefined ? 0 : 8 - first.length - last.length;
  const groups = [...first, ...Array.from({ length: zeros }, () => '0'), ...last];
  return `${groups
    .slice(0, 4)
    .map((group) => Number.parseInt(group, 16).toString(16))
    .join(':')}::/64`;
}

const isIn = (list: BlockList, address: string): boolean =>
  list.check(address, isIP(address) === 4 ? 'ipv4' : 'ipv6');

/** Without a port, brackets or zone; an IPv4 address that is written as IPv6 as itself. */
function plain(text: string): string {
  const bare = text
    .trim()
    .replace(/^\[(.*)\](:\d+)?$/, '$1')
    .replace(/^(\d+\.\d+\.\d+\.\d+):\d+$/, '$1')
    .replace(/%.*$/, '');
  return bare.replace(/^::ffff:(?=\d+\.\d+\.\d+\.\d+$)/i, '');
}
