import { answer } from '@/app/api/_door.ts';
import { paperOf } from '@/app/api/_papers.ts';
import { services } from '@/lib/access/services.ts';
import { bad, type Result } from '@/lib/core/result.ts';

type Context = { params: Promise<{ file: string }> };

/** A calendar program asks for it now and then, with nothing but the address. */
export const GET = (_request: Request, context: Context): Promise<Response> => answer(subscribed(context));

async function subscribed({ params }: Context): Promise<Result<Response>> {
  const [token = '', ending] = (await params).file.split('.');
  if (ending !== 'ics') return bad('not found', 'A calendar address ends in .ics.');
  const found = await services().calendar.of(token);
  if (!found.ok) return found;
  const grant = { ...found.value, root: `calendar ${token}` };
  return paperOf(grant, 'planner.ics', { size: 'A4', clock: 'floor' });
}
