import { z } from 'zod';
import { bad, good, type Result } from '../lib/core/result.ts';

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

export interface Environment {
  port: number;
  host: string;
  folder: string;
  origin: string | null;
}

export function readEnvironment(variables: NodeJS.ProcessEnv): Result<Environment> {
  const parsed = environment.safeParse(variables);
  if (!parsed.success) {
    const issue = parsed.error.issues[0];
    return bad('environment', `The setting ${issue?.path.join('.')} is not valid: ${issue?.message}.`);
  }
  const { PORT, HOST, LARKSTEP_DATA, LARKSTEP_ORIGIN } = parsed.data;
  return good({ port: PORT, host: HOST, folder: LARKSTEP_DATA, origin: LARKSTEP_ORIGIN });
}
