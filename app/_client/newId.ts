/** An id for a new entry: 80 random bits. `crypto.randomUUID` is missing on plain http, `getRandomValues` is not. */
export function newId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(10));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}
