import { sessionCookie } from '@/lib/access/cookie.ts';
import { services } from '@/lib/access/services.ts';
import { type Grant, PEER, SECURE, tokenIn } from '@/lib/access/session.ts';
import { role } from '@/lib/core/areas/people.ts';
import { refusalWords } from '@/lib/core/refusal.ts';
import { bad, good, type Result } from '@/lib/core/result.ts';
import type { z } from '@/lib/core/zod.ts';
import { FROZEN } from '@/lib/protocol/close.ts';
import { orDiskFull } from '@/lib/protocol/diskFull.ts';
import { statusOf } from '@/lib/protocol/problem.ts';

/** Nothing that a route answers may be kept by anybody on the way. */
const PRIVATE = { 'Cache-Control': 'no-store' };

export const DONE = { done: true } as const;

/** The answer of a route: what its work came to as JSON, or what is wrong with a status that fits. */
export async function answer<T>(work: Promise<Result<T | Response>>): Promise<Response> {
  const result = await orDiskFull(work);
  if (!result.ok)
    return Response.json(result.problem, { status: statusOf(result.problem.code), headers: PRIVATE });
  return result.value instanceof Response ? result.value : Response.json(result.value, { headers: PRIVATE });
}

/** Bytes that a request in words may have: a studio's moves are some tens of thousands. */
const LARGEST_BODY = 1_000_000;

/**
 * The body as text; null when it is larger than anybody's words. The rest is read on and let go, so that the answer still
 * finds its way, and never more than this lies in memory.
 */
async function textOf(request: Request, largest: number): Promise<string | null> {
  const decoder = new TextDecoder();
  const reader = request.body?.getReader();
  let text = '';
  let size = 0;
  for (let chunk = await reader?.read(); chunk && !chunk.done; chunk = await reader?.read()) {
    size += chunk.value.length;
    text = size > largest ? '' : text + decoder.decode(chunk.value, { stream: true });
  }
  return size > largest ? null : text + decoder.decode();
}

/** The body as JSON of this shape. */
export async function bodyOf<S extends z.ZodType>(
  request: Request,
  schema: S,
  largest = LARGEST_BODY,
): Promise<Result<z.infer<S>>> {
  const text = await textOf(request, largest);
  if (text === null) return bad('too large', 'This is more than a request may hold.');
  let body: unknown;
  try {
    body = JSON.parse(text);
  } catch {
    return bad('malformed', 'The request is no JSON.');
  }
  const parsed = schema.safeParse(body);
  return parsed.success ? good(parsed.data) : bad('malformed', `${refusalWords(parsed.error)}.`);
}

/** The session's token; no script of a page can read the cookie that holds it. */
export const tokenOf = (request: Request): string | null => tokenIn(request.headers.get('cookie'));

/** What this browser may do on the board in the role that the address names. */
export async function grantOf(request: Request, board: string): Promise<Result<Grant>> {
  const as = role.safeParse(new URL(request.url).searchParams.get('as'));
  if (!as.success) return bad('malformed', 'The address does not say as whom: ?as=ROLE.');
  return services().grants.of(tokenOf(request), board, as.data);
}

/** The same, where it may write. */
export async function writerOf(request: Request, board: string): Promise<Result<Grant>> {
  const grant = await grantOf(request, board);
  return grant.ok && grant.value.frozen ? bad('no right', FROZEN) : grant;
}

export const instructorOf = (request: Request): Promise<Result<string>> =>
  services().instructor.of(tokenOf(request));

/** Which address asks, as the server wrote it down. */
export const peerOf = (request: Request): string => request.headers.get(PEER) ?? '';

/** Address under which this browser reaches the server. */
export function originOf(request: Request): string {
  const { origin } = services();
  if (origin !== null) return origin;
  const scheme = isSecure(request) ? 'https' : 'http';
  return `${scheme}://${request.headers.get('host') ?? new URL(request.url).host}`;
}

/** Whether the browser asks over https, as the server wrote it down. */
const isSecure = (request: Request): boolean => request.headers.get(SECURE) !== null;

/** The session's cookie for this browser. */
export const cookieFor = (request: Request, token: string): string => sessionCookie(token, isSecure(request));

/** `{ done: true }`, and the browser holds the session from now on. */
export function signedIn(request: Request, token: string): Response {
  return Response.json(DONE, { headers: { ...PRIVATE, 'Set-Cookie': cookieFor(request, token) } });
}
