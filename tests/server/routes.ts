import { readdirSync } from 'node:fs';
import { join } from 'node:path';

type Handler = (
  request: Request,
  context: { params: Promise<Record<string, string>> },
) => Response | Promise<Response>;

const app = join(import.meta.dirname, '..', '..', 'app');
const routes = readdirSync(app, { recursive: true, encoding: 'utf8' })
  .filter((path) => path.endsWith('route.ts'))
  // A name comes before a parameter in its place.
  .sort((a, b) => a.split('[').length - b.split('[').length)
  .map((path) => ({ file: join(app, path), parts: path.split('/').slice(0, -1) }));

/** The route's own function for a path, found as the page renderer finds it: by folders, `[name]` for a parameter. */
export async function routeFor(
  method: string,
  path: string,
): Promise<((request: Request) => Promise<Response>) | null> {
  const asked = path.split('/').slice(1);
  for (const { file, parts } of routes) {
    if (parts.length !== asked.length) continue;
    const params: Record<string, string> = {};
    const matches = parts.every((part, index) => {
      if (!part.startsWith('[')) return part === asked[index];
      params[part.slice(1, -1)] = decodeURIComponent(asked[index]!);
      return true;
    });
    if (!matches) continue;
    const handlers = (await import(file)) as Record<string, Handler | undefined>;
    const handler = handlers[method] ?? (method === 'HEAD' ? handlers.GET : undefined);
    return handler ? async (request) => handler(request, { params: Promise.resolve(params) }) : null;
  }
  return null;
}
