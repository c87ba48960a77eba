import { answer } from '@/app/api/_door.ts';
import { services } from '@/lib/access/services.ts';
import { type Context, instructorGrantOf } from '../_instructor.ts';

export const GET = (request: Request, context: Context): Promise<Response> => answer(take(request, context));

async function take(request: Request, context: Context) {
  const grant = await instructorGrantOf(request, context);
  return grant.ok ? services().history.readable(grant.value) : grant;
}
