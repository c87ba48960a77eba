import { bad, good, type Result } from '../lib/core/result.ts';
import { z } from '../lib/core/zod.ts';

const port = z.coerce.number().pipe(z.int().min(0).max(65535));
const environment = z.object({
  PORT: port.default(4310),
  /** This computer only, unless whoever runs it says otherwise. */
  HOST: z.string().min(1).default('127.0.0.1'),
  LARKSTEP_DATA: z.string().min(1).default('data'),
  /** Address under which people reach the server, when a proxy stands before it: `https://dance.example`. */
  LARKSTEP_ORIGIN: z
    .url()
    .transform((address) => new URL(address).origin)
    .nullable()
    .default(null),
});

/** What each may be, in words. */
const wanted: Record<string, string> = {
  PORT: 'a number from 0 to 65535',
  HOST: 'a name or number of this computer',
  LARKSTEP_DATA: 'the name of a folder',
  LARKSTEP_ORIGIN: 'an address like https://dance.example',
};

export interface Environment {
  port: number;
  host: string;
  folder: string;
  origin: string | null;
}

export function readEnvironment(variables: NodeJS.ProcessEnv): Result<Environment> {
  const parsed = environment.safeParse(variables);
  if (!parsed.success) {
    const name = String(parsed.error.issues[0]?.path[0]);
    return bad('environment', `The setting ${name} is not valid: it is ${wanted[name]}.`);
  }
  const { PORT, HOST, LARKSTEP_DATA, LARKSTEP_ORIGIN } = parsed.data;
  return good({ port: PORT, host: HOST, folder: LARKSTEP_DATA, origin: LARKSTEP_ORIGIN });
}
