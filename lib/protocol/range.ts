/**
 * The bytes that a Range header asks for, both ends included (RFC 9110, section 14). Null when the whole file is to be sent:
 * without a header, for several ranges at once, and for what is no byte range.
 */
export function rangeOf(
  header: string | null,
  bytes: number,
): { from: number; to: number } | 'unsatisfiable' | null {
  const match = /^bytes=(\d*)-(\d*)$/.exec(header?.trim() ?? '');
  if (!match || (match[1] === '' && match[2] === '')) return null;
  const [, first = '', last = ''] = match;
  if (first === '') {
    const length = Math.min(Number(last), bytes);
    return length === 0 ? 'unsatisfiable' : { from: bytes - length, to: bytes - 1 };
  }
  const from = Number(first);
  const to = last === '' ? bytes - 1 : Math.min(Number(last), bytes - 1);
  if (last !== '' && Number(last) < from) return null;
  return from >= bytes ? 'unsatisfiable' : { from, to };
}
