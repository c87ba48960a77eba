import { randomBytes, type ScryptOptions, scrypt, timingSafeEqual } from 'node:crypto';

/**
 * scrypt with N = 2^17, r = 8, p = 1: 128 MB and some .4 s a guess. The least that the OWASP Password Storage Cheat Sheet
 * recommends (cheatsheetseries.owasp.org/cheatsheets/Password_Storage_Cheat_Sheet.html, as it stood in 2023 and since).
 */
const COST: Cost = { ln: 17, r: 8, p: 1 };
/** Of seals that name no cost of their own, from before. */
const FIRST_COST: Cost = { ln: 15, r: 8, p: 1 };
/** A seal that asks for more than this was not made here; its memory would be the server's end. */
const DEAREST: Cost = { ln: 20, r: 16, p: 4 };
const KEY_BYTES = 32;

/** As a seal names it: `ln` is the binary logarithm of N. */
interface Cost {
  ln: number;
  r: number;
  p: number;
}

/** How a passphrase is kept: as text in the PHC string format (github.com/P-H-C/phc-string-format), with the cost it took. */
interface Seal {
  cost: Cost;
  salt: Buffer;
  key: Buffer;
}

/** What is stored in place of a passphrase. */
export async function seal(passphrase: string): Promise<string> {
  const salt = randomBytes(16);
  const key = await derive(passphrase, salt, COST);
  const { ln, r, p } = COST;
  return `$scrypt$ln=${ln},r=${r},p=${p}$${unpadded(salt)}$${unpadded(key)}`;
}

export async function opens(passphrase: string, sealed: string): Promise<boolean> {
  const { cost, salt, key } = readSeal(sealed);
  return timingSafeEqual(await derive(passphrase, salt, cost), key);
}

/** Whether it was made at another cost than one would be made at now. */
export function isOutdated(sealed: string): boolean {
  const { cost } = readSeal(sealed);
  return cost.ln !== COST.ln || cost.r !== COST.r || cost.p !== COST.p;
}

/** Throws where it is no seal: then the store is damaged, and no passphrase is right. */
function readSeal(sealed: string): Seal {
  const named = /^\$scrypt\$ln=(\d+),r=(\d+),p=(\d+)\$([\w+/]+)\$([\w+/]+)$/.exec(sealed);
  const cost = named ? { ln: Number(named[1]), r: Number(named[2]), p: Number(named[3]) } : FIRST_COST;
  const [salt = '', key = ''] = named ? named.slice(4) : sealed.split('.');
  const read = { cost, salt: Buffer.from(salt, 'base64'), key: Buffer.from(key, 'base64') };
  const isDear = cost.ln > DEAREST.ln || cost.r > DEAREST.r || cost.p > DEAREST.p;
  if (isDear || read.key.length !== KEY_BYTES) throw new Error('The stored passphrase cannot be read.');
  return read;
}

function derive(passphrase: string, salt: Buffer, { ln, r, p }: Cost): Promise<Buffer> {
  // The memory that scrypt takes is 128 N r bytes and a little (RFC 7914, section 2): twice that is enough.
  const options: ScryptOptions = { N: 2 ** ln, r, p, maxmem: 256 * 2 ** ln * r };
  return new Promise((resolve, reject) =>
    scrypt(passphrase.normalize('NFKC'), salt, KEY_BYTES, options, (error, key) =>
      error ? reject(error) : resolve(key),
    ),
  );
}

const unpadded = (bytes: Buffer): string => bytes.toString('base64').replaceAll('=', '');

/** One after the other, because each takes 128 MB. Whoever finds the line full is told to wait, not kept waiting. */
export class OneByOne {
  private last: Promise<unknown> = Promise.resolve();
  private waiting = 0;

  constructor(private readonly longest: number) {}

  /** Null, and nothing is done, where too many wait. */
  async run<T>(work: () => Promise<T>): Promise<T | null> {
    if (this.waiting >= this.longest) return null;
    this.waiting += 1;
    const done = this.last.then(work).finally(() => {
      this.waiting -= 1;
    });
    this.last = done.catch(() => undefined);
    return done;
  }
}
