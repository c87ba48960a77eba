import { services } from '@/lib/access/services.ts';

export const dynamic = 'force-dynamic';

export function GET(): Response {
  return new Response(services().metrics(), {
    headers: { 'Content-Type': 'text/plain; version=0.0.4; charset=utf-8', 'Cache-Control': 'no-store' },
  });
}
