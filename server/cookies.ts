import { COOKIE } from '../lib/access/session.ts';

/** The session's token in a Cookie header; null without one. */
export function tokenIn(header: string | undefined): string | null {
  for (const part of (header ?? '').split(';')) {
    const [name, value] = part.trim().split('=', 2);
    if (name === COOKIE && value && /^[\w-]{20,64}$/.test(value)) return value;
  }
  return null;
}
