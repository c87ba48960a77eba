import { createHash, randomBytes } from 'node:crypto';

/** An unguessable secret for a link, a session or a calendar address: 192 random bits, safe in a URL. */
export const newToken = (): string => randomBytes(24).toString('base64url');

/** What is stored in place of a token. A random token needs no salt. */
export const hashOf = (token: string): string => createHash('sha256').update(token).digest('hex');

/** A name that is no secret: of a board, a link. */
export const newId = (): string => randomBytes(10).toString('hex');
