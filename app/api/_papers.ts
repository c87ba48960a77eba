import { services } from '@/lib/access/services.ts';
import { good, type Result } from '@/lib/core/result.ts';
import { dispositionOf } from '@/lib/export/fileName.ts';
import type { Paper } from '@/lib/protocol/api.ts';

const types: Record<string, string> = {
  pdf: 'application/pdf',
  ics: 'text/calendar; charset=utf-8',
  csv: 'text/csv; charset=utf-8; header=present',
  vtt: 'text/vtt; charset=utf-8',
  json: 'application/json',
};

type Make = ReturnType<typeof services>['papers']['make'];

/** The paper as a file to keep, holding what this grant may read. */
export async function paperOf(
  grant: Parameters<Make>[0],
  paper: Paper,
  wish: Parameters<Make>[2],
): Promise<Result<Response>> {
  const made = await services().papers.make(grant, paper, wish);
  if (!made.ok) return made;
  return good(
    new Response(made.value.bytes as BodyInit, {
      headers: {
        'Content-Type': types[paper.split('.')[1]!]!,
        'Content-Disposition': dispositionOf(made.value.name, paper),
        'Cache-Control': 'no-store',
      },
    }),
  );
}
