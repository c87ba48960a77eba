/** A request to our own routes. A refusal comes back as its sentence; no network is one, too. */
export async function ask<T>(
  address: string,
  init?: RequestInit & { json?: unknown },
): Promise<{ ok: true; value: T } | { ok: false; sentence: string; code: string }> {
  const { json, ...rest } = init ?? {};
  try {
    const response = await fetch(address, {
      ...rest,
      ...(json === undefined
        ? {}
        : {
            body: JSON.stringify(json),
            headers: { 'content-type': 'application/json' },
          }),
    });
    const body = (await response.json().catch(() => null)) as
      | (T & { sentence?: string; code?: string })
      | null;
    if (response.ok) return { ok: true, value: body as T };
    return {
      ok: false,
      sentence: body?.sentence ?? 'The server did not answer as expected. Please try again.',
      code: body?.code ?? String(response.status),
    };
  } catch {
    return {
      ok: false,
      sentence: 'There is no connection just now. Please try again when you are back online.',
      code: 'offline',
    };
  }
}
