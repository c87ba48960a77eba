import type { House } from './house.ts';

export interface Asked {
  method?: string;
  cookie?: string;
  json?: unknown;
  body?: BodyInit;
  headers?: Record<string, string>;
}

/** A request as a page makes it, which follows no redirection. */
export function askAt(house: Pick<House, 'address'>, path: string, asked: Asked = {}): Promise<Response> {
  const { method = 'GET', cookie, json, body, headers = {} } = asked;
  return fetch(house.address + path, {
    method,
    redirect: 'manual',
    headers: { ...headers, ...(cookie ? { cookie } : {}) },
    body: json === undefined ? body : JSON.stringify(json),
  });
}

const PASSPHRASE = 'a phrase that nobody guesses';

/** Sets the studio up; the cookie of the instructor's browser. */
export async function setUpStudio(house: House, passphrase = PASSPHRASE): Promise<string> {
  const json = { code: house.running.setUpCode, name: 'Rosa', passphrase };
  const response = await askAt(house, '/api/set-up', { method: 'POST', json });
  const cookie = response.headers.get('set-cookie')?.split(';')[0];
  if (!cookie) throw new Error(`setting up failed: ${response.status}`);
  return cookie;
}
