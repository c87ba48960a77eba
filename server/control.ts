import { chmod, rm } from 'node:fs/promises';
import { createConnection, createServer, type Socket } from 'node:net';
import { join, relative, resolve } from 'node:path';
import { type Role, role } from '../lib/core/areas/people.ts';
import { refusalWords } from '../lib/core/refusal.ts';
import { bad, type Result } from '../lib/core/result.ts';
import { z } from '../lib/core/zod.ts';

/**
 * What the command asks of a running server, over a socket in the data folder that only the folder's owner can open: a line of
 * JSON there, a line back. Two processes writing one store would lose what the other does not know.
 */
const request = z.discriminatedUnion('verb', [
  z.object({
    verb: z.literal('links'),
    board: z.string(),
    role,
    days: z.nullable(z.int().check(z.minimum(1))),
  }),
  z.object({ verb: z.literal('backup'), file: z.string().check(z.maxLength(4096)) }),
  z.object({ verb: z.literal('passphrase'), name: z.nullable(z.string().check(z.maxLength(80))) }),
]);
export type ControlRequest = z.infer<typeof request>;

export interface ControlWork {
  /** A new link's address. */
  link(board: string, role: Role, days: number | null): Promise<Result<string>>;
  /** Writes a copy of the database. */
  backup(file: string): Promise<Result<string>>;
  /** A new passphrase for the instructor, by this name where nobody has set the studio up. */
  passphrase(name: string | null): Promise<Result<string>>;
}

const LONGEST_LINE = 16_384;
/** Longest path of a socket that every Unix takes, in bytes. */
const LONGEST_PATH = 100;

/** By its shorter name: from here, or from the root. Null where neither fits; the command then asks to stop the server first. */
function socketOf(folder: string): string | null {
  if (process.platform === 'win32') return join('\\\\?\\pipe', resolve(folder), 'control');
  const full = join(resolve(folder), 'control');
  const near = relative(process.cwd(), full);
  const path = near.length < full.length ? near : full;
  return Buffer.byteLength(path) <= LONGEST_PATH ? path : null;
}

export function workOf(work: ControlWork, asked: ControlRequest): Promise<Result<string>> {
  switch (asked.verb) {
    case 'links':
      return work.link(asked.board, asked.role, asked.days);
    case 'backup':
      return work.backup(asked.file);
    case 'passphrase':
      return work.passphrase(asked.name);
  }
}

/** Opens the socket of the folder whose lock the caller holds; gives what closes it again. */
export async function openControl(folder: string, work: ControlWork): Promise<() => Promise<void>> {
  const path = socketOf(folder);
  if (path === null) return async () => {};
  // The lock is ours, so what lies there was left by a server that ended without a word.
  await rm(path, { force: true });
  const server = createServer((socket) => {
    socket.on('error', () => socket.destroy());
    lineOf(socket)
      .then((line) => answerTo(line, work))
      .then((answer) => socket.end(`${JSON.stringify(answer)}\n`))
      .catch(() => socket.destroy());
  });
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen(path, resolve);
  });
  if (process.platform !== 'win32') await chmod(path, 0o600);
  return () => new Promise((resolve) => server.close(() => resolve()));
}

async function answerTo(line: string, work: ControlWork): Promise<Result<string>> {
  try {
    const asked = request.safeParse(JSON.parse(line));
    if (!asked.success)
      return bad('malformed', `The server does not take this: ${refusalWords(asked.error)}.`);
    return await workOf(work, asked.data);
  } catch (error) {
    return bad('failed', `The server could not do it: ${(error as Error).message.split('\n')[0]}`);
  }
}

/** The running server's answer; null when none listens. */
export function askServer(folder: string, asked: ControlRequest): Promise<Result<string> | null> {
  const path = socketOf(folder);
  if (path === null) return Promise.resolve(null);
  return new Promise((resolve, reject) => {
    const socket = createConnection(path);
    socket.once('error', (error: NodeJS.ErrnoException) => {
      if (error.code === 'ENOENT' || error.code === 'ECONNREFUSED') resolve(null);
      else reject(error);
    });
    socket.once('connect', () => {
      socket.write(`${JSON.stringify(asked)}\n`);
      lineOf(socket).then((line) => resolve(JSON.parse(line) as Result<string>), reject);
    });
  });
}

function lineOf(socket: Socket): Promise<string> {
  return new Promise((resolve, reject) => {
    let text = '';
    socket.setEncoding('utf8');
    socket.on('data', (part: string) => {
      text += part;
      const end = text.indexOf('\n');
      if (end >= 0) resolve(text.slice(0, end));
      else if (text.length > LONGEST_LINE) reject(new Error('too long a line'));
    });
    socket.once('close', () => reject(new Error('the other side ended')));
  });
}
