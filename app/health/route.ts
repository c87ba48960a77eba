import { services } from '@/lib/access/services.ts';

export const dynamic = 'force-dynamic';

/** 200 when pages are served and everything behind them works, else 503; a word on each part. */
export async function GET(): Promise<Response> {
  const { healthy, parts } = await services().health();
  return Response.json(
    { healthy, ...parts },
    { status: healthy ? 200 : 503, headers: { 'Cache-Control': 'no-store' } },
  );
}
