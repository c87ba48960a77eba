import type { IncomingMessage } from 'node:http';
import { describe, expect, test } from 'vitest';
import { readEnvironment } from '../../server/environment.ts';
import { networkOf, type Proxies, peerOf, readProxies } from '../../server/peer.ts';

const asked = (remoteAddress: string, forwarded?: string): IncomingMessage =>
  ({ socket: { remoteAddress }, headers: { 'x-forwarded-for': forwarded } }) as unknown as IncomingMessage;
function proxies(text: string): Proxies {
  const read = readProxies(text);
  if (!read.ok) throw new Error(read.problem.sentence);
  return read.value;
}

// Addresses are those that RFC 5737 and RFC 3849 set aside for examples.
const CLIENT = '203.0.113.7';
const FORGED = '198.51.100.1';

describe('the address that a request came from', () => {
  test.each([
    ['nobody is trusted unless it was said', '0', CLIENT, FORGED, CLIENT],
    [
      'one proxy: what it added, not what the client claimed',
      '1',
      '127.0.0.1',
      `${FORGED}, ${CLIENT}`,
      CLIENT,
    ],
    ['two proxies', '2', '10.0.0.1', `${FORGED}, ${CLIENT}, 10.0.0.2`, CLIENT],
    ['more proxies than hops: the first that is named', '3', '10.0.0.1', CLIENT, CLIENT],
    ['no header: the proxy itself', '1', '10.0.0.1', undefined, '10.0.0.1'],
    ['words that are no address end it', '2', '10.0.0.1', `${CLIENT}, unknown`, '10.0.0.1'],
    ['a port and brackets are left off', '1', '127.0.0.1', '[2001:db8::1]:4711', '2001:db8::1'],
    [
      'addresses: from the end past those',
      '10.0.0.0/8',
      '10.0.0.1',
      `${FORGED}, ${CLIENT}, 10.9.9.9`,
      CLIENT,
    ],
    ['addresses: who comes past the proxy is not believed', '10.0.0.0/8', CLIENT, FORGED, CLIENT],
    ['addresses of both kinds', '192.0.2.1, 2001:db8::/32', '2001:db8::9', CLIENT, CLIENT],
    ['IPv4 written as IPv6', '127.0.0.1', '::ffff:127.0.0.1', CLIENT, CLIENT],
  ] as const)('%s', (_what, setting, nearest, forwarded, peer) => {
    expect(peerOf(asked(nearest, forwarded), proxies(setting))).toBe(peer);
  });

  test.each(['one', '1.2.3', '10.0.0.0/33', '10.0.0.0/', '10.0.0.0/8/8', '10.0.0.1,', '12', ''])(
    'a setting that is none is refused: %s',
    (text) => {
      expect(readProxies(text).ok).toBe(false);
      const read = readEnvironment({ LARKSTEP_PROXY: text } as never);
      expect(read.ok ? '' : read.problem.sentence).toBe(
        'The setting LARKSTEP_PROXY is not valid: it is a number from 0 to 9, or addresses like 10.0.0.0/8, 192.168.1.7.',
      );
    },
  );
});

// RFC 4291, section 2.2: the same address in its forms; 2.5.4: the first 64 bits name the network.
test.each([
  ['2001:db8:1:2:aaaa:bbbb:cccc:dddd', '2001:db8:1:2::/64'],
  ['2001:DB8:1:2::1', '2001:db8:1:2::/64'],
  ['2001:db8::1', '2001:db8:0:0::/64'],
  ['::1', '0:0:0:0::/64'],
  ['192.0.2.1', '192.0.2.1'],
  ['', ''],
])('limits count a household as one: %s', (address, network) => {
  expect(networkOf(address)).toBe(network);
});
