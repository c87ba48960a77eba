import { cookieFor, peerOf, tokenOf } from '@/app/api/_door.ts';
import { services } from '@/lib/access/services.ts';
import { orDiskFull } from '@/lib/protocol/diskFull.ts';

type Context = { params: Promise<{ token: string }> };

/** The address is a secret: it is kept nowhere. */
const SECRET = { 'Cache-Control': 'no-store' };

/** Adds what the link gives to this browser's session, and leads to the role's page. */
export async function GET(request: Request, { params }: Context): Promise<Response> {
  // A preview of the link, or a program: only somebody who opens the page joins.
  if (!request.headers.get('accept')?.includes('text/html')) return new Response(null, { headers: SECRET });
  const joined = await orDiskFull(
    services().grants.join((await params).token, tokenOf(request), peerOf(request)),
  );
  if (!joined.ok) return leadTo(`/?why=${encodeURIComponent(joined.problem.code)}`);
  const { token, board, role } = joined.value;
  return leadTo(`/board/${board}?as=${role}`, { 'Set-Cookie': cookieFor(request, token) });
}

export function HEAD(): Response {
  return new Response(null, { headers: SECRET });
}

const leadTo = (path: string, headers: Record<string, string> = {}): Response =>
  new Response(null, { status: 303, headers: { ...SECRET, ...headers, Location: path } });
