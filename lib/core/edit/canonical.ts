import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';

export type Json = null | boolean | number | string | readonly Json[] | { readonly [key: string]: Json };

/**
 * JSON in its canonical form (RFC 8785): keys in order of their UTF-16 units, no spaces, numbers and strings as ECMAScript
 * writes them. Throws for numbers that JSON cannot hold.
 */
export function canonicalJson(value: Json): string {
  if (typeof value === 'number' && !Number.isFinite(value)) throw new Error(`${value} has no JSON`);
  if (value === null || typeof value !== 'object') return JSON.stringify(value);
  if (isList(value)) return `[${value.map(canonicalJson).join(',')}]`;
  const entries = Object.keys(value)
    .sort()
    .map((key) => `${JSON.stringify(key)}:${canonicalJson(value[key]!)}`);
  return `{${entries.join(',')}}`;
}

const isList = (value: Json): value is readonly Json[] => Array.isArray(value);

/** Plain data, equal whatever the order of its keys. */
export const same = (a: unknown, b: unknown): boolean =>
  a === b || canonicalJson(a as Json) === canonicalJson(b as Json);

/** SHA-256 (FIPS 180-4) of the canonical JSON, hex. */
export const hashOf = (value: Json): string => bytesToHex(sha256(utf8ToBytes(canonicalJson(value))));
