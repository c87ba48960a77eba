import { answer } from '@/app/api/_door.ts';
import { services } from '@/lib/access/services.ts';
import { METRICS } from '@/lib/access/session.ts';
import { bad, good, type Result } from '@/lib/core/result.ts';

export const dynamic = 'force-dynamic';

export const GET = (request: Request): Promise<Response> => answer(read(request));

/** Who may read them the server has judged, which sees from where somebody asks. */
async function read(request: Request): Promise<Result<Response>> {
  if (request.headers.get(METRICS) === null)
    return bad(
      'no right',
      'These figures are for whoever runs the server: from its own computer, or with its token.',
    );
  return good(
    new Response(services().metrics(), {
      headers: { 'Content-Type': 'text/plain; version=0.0.4; charset=utf-8', 'Cache-Control': 'no-store' },
    }),
  );
}
