import { answer, grantOf } from '@/app/api/_door.ts';
import { services } from '@/lib/access/services.ts';
import { good, type Result } from '@/lib/core/result.ts';
import { rangeOf } from '@/lib/protocol/range.ts';

type Context = { params: Promise<{ board: string; file: string }> };

export const GET = (request: Request, context: Context): Promise<Response> =>
  answer(fetchFile(request, context));

async function fetchFile(request: Request, { params }: Context): Promise<Result<Response>> {
  const { board, file } = await params;
  const grant = await grantOf(request, board);
  if (!grant.ok) return grant;
  const found = await services().audio.of(grant.value.board, file);
  if (!found.ok) return found;
  const { bytes, type, read } = found.value;
  const tag = `"${file}"`;
  const headers = {
    'Content-Type': type,
    'Accept-Ranges': 'bytes',
    ETag: tag,
    // May be kept by this browser, but is asked for each time: a link may have ended.
    'Cache-Control': 'private, no-cache',
  };
  if (request.headers.get('if-none-match') === tag) return good(new Response(null, { status: 304, headers }));
  const ifRange = request.headers.get('if-range');
  const wanted = ifRange === null || ifRange === tag ? request.headers.get('range') : null;
  const range = rangeOf(wanted, bytes);
  if (range === 'unsatisfiable')
    return good(
      new Response(null, { status: 416, headers: { ...headers, 'Content-Range': `bytes */${bytes}` } }),
    );
  const { from, to } = range ?? { from: 0, to: bytes - 1 };
  const length = { ...headers, 'Content-Length': String(to - from + 1) };
  const body = request.method === 'HEAD' ? null : read(from, to);
  if (range === null) return good(new Response(body, { headers: length }));
  return good(
    new Response(body, {
      status: 206,
      headers: { ...length, 'Content-Range': `bytes ${from}-${to}/${bytes}` },
    }),
  );
}
