/**
 * One JSON line an event on standard error. Fields are words and figures of our own: never a token, an address with a token
 * in it, a name or what somebody wrote.
 */
export interface Log {
  info(event: string, fields?: Record<string, string | number>): void;
  error(event: string, fields?: Record<string, string | number>): void;
}

export function jsonLog(write: (line: string) => void): Log {
  const at =
    (level: string) =>
    (event: string, fields: Record<string, string | number> = {}) =>
      write(`${JSON.stringify({ at: new Date().toISOString(), level, event, ...fields })}\n`);
  return { info: at('info'), error: at('error') };
}
