import { randomBytes, type ScryptOptions, scrypt, timingSafeEqual } from 'node:crypto';

/** scrypt with N = 2^15, r = 8, p = 1: 32 MB and some 80 ms a guess. */
const COST: ScryptOptions = { N: 2 ** 15, r: 8, p: 1, maxmem: 64 * 1024 * 1024 };
const KEY_BYTES = 32;

const derive = (passphrase: string, salt: Buffer): Promise<Buffer> =>
  new Promise((resolve, reject) =>
    scrypt(passphrase.normalize('NFKC'), salt, KEY_BYTES, COST, (error, key) =>
      error ? reject(error) : resolve(key),
    ),
  );

/** What is stored in place of a passphrase: salt and key. */
export async function seal(passphrase: string): Promise<string> {
  const salt = randomBytes(16);
  return `${salt.toString('base64url')}.${(await derive(passphrase, salt)).toString('base64url')}`;
}

export async function opens(passphrase: string, sealed: string): Promise<boolean> {
  const [salt = '', key = ''] = sealed.split('.');
  const derived = await derive(passphrase, Buffer.from(salt, 'base64url'));
  const stored = Buffer.from(key, 'base64url');
  return stored.length === derived.length && timingSafeEqual(derived, stored);
}
