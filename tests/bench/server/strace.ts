/** One system call in what strace writes down with `-f -xx`. */
export interface Call {
  name: string;
  /** Its first argument. */
  file: number;
  /** The lines on which it began and returned. */
  began: number;
  returned: number;
  result: number;
  /** All that was read or written. */
  bytes: Uint8Array;
}

/** In the order in which they returned. */
export function* callsOf(trace: string): Generator<Call> {
  const open = new Map<string, { text: string; began: number }>();
  for (const [line, text] of trace.split('\n').entries()) {
    const [, thread = '', rest = ''] = /^(\d+) +(.*)$/.exec(text) ?? [];
    if (rest.endsWith('<unfinished ...>')) {
      open.set(thread, { text: rest.slice(0, -'<unfinished ...>'.length), began: line });
      continue;
    }
    const [, more] = /^<\.\.\. \w+ resumed>(.*)$/.exec(rest) ?? [];
    const first = more === undefined ? undefined : open.get(thread);
    const whole = first ? first.text + more : rest;
    const [, name, file, result] = /^(\w+)\((\d+).*\) += (-?\d+)/.exec(whole) ?? [];
    if (name === undefined) continue;
    const bytes = bytesIn(whole);
    yield {
      name,
      file: Number(file),
      began: first?.began ?? line,
      returned: line,
      result: Number(result),
      bytes,
    };
  }
}

function bytesIn(text: string): Uint8Array {
  const hex = [...text.matchAll(/"((?:\\x[0-9a-f]{2})*)"/g)].map(([, quoted]) =>
    quoted!.replaceAll('\\x', ''),
  );
  return Uint8Array.from(Buffer.from(hex.join(''), 'hex'));
}

const BINARY = 0x82;

/** The payloads of the whole binary frames (RFC 6455, section 5.2) in a buffer that begins with one. */
export function* framesIn(bytes: Uint8Array): Generator<Uint8Array> {
  let at = 0;
  while (bytes[at] === BINARY) {
    const masked = (bytes[at + 1]! & 0x80) !== 0;
    let length = bytes[at + 1]! & 0x7f;
    at += 2;
    if (length === 126) {
      length = bytes[at]! * 256 + bytes[at + 1]!;
      at += 2;
    } else if (length === 127) return;
    if (masked) at += 4;
    yield bytes.subarray(at, at + length);
    at += length;
  }
}
