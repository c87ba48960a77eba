import { services } from '@/lib/access/services.ts';

export const dynamic = 'force-dynamic';

/** 200 when pages are served and the store answers. */
export async function GET(): Promise<Response> {
  await services().instructor.exists();
  return Response.json({ healthy: true }, { headers: { 'Cache-Control': 'no-store' } });
}
