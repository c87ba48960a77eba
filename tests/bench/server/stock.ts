import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';
import { type WebSocket, WebSocketServer } from 'ws';
import * as awareness from 'y-protocols/awareness';
import * as sync from 'y-protocols/sync';
import * as Y from 'yjs';
import { answerMemory } from './memory.ts';

/**
 * A stock y-websocket server to measure beside: the libraries used as their authors describe, everything in memory, no
 * rights, no checks, nothing stored. In a process of its own; sends its port.
 */
const SYNC = 0;
const AWARENESS = 1;
const PING_MS = 30_000;

interface Room {
  doc: Y.Doc;
  awareness: awareness.Awareness;
  sockets: Map<WebSocket, Set<number>>;
}
const rooms = new Map<string, Room>();

function roomOf(name: string): Room {
  const known = rooms.get(name);
  if (known) return known;
  const doc = new Y.Doc();
  const room: Room = { doc, awareness: new awareness.Awareness(doc), sockets: new Map() };
  room.awareness.setLocalState(null);
  const toAll = (type: number, write: (encoder: encoding.Encoder) => void) => {
    const encoder = encoding.createEncoder();
    encoding.writeVarUint(encoder, type);
    write(encoder);
    const frame = encoding.toUint8Array(encoder);
    for (const socket of room.sockets.keys()) socket.send(frame);
  };
  doc.on('update', (update: Uint8Array) => toAll(SYNC, (encoder) => sync.writeUpdate(encoder, update)));
  type Changes = { added: number[]; updated: number[]; removed: number[] };
  room.awareness.on('update', ({ added, updated, removed }: Changes, origin: WebSocket | null) => {
    const controlled = origin && room.sockets.get(origin);
    for (const client of added) controlled?.add(client);
    for (const client of removed) controlled?.delete(client);
    const update = awareness.encodeAwarenessUpdate(room.awareness, [...added, ...updated, ...removed]);
    toAll(AWARENESS, (encoder) => encoding.writeVarUint8Array(encoder, update));
  });
  rooms.set(name, room);
  return room;
}

function receive(room: Room, socket: WebSocket, message: Uint8Array): void {
  const decoder = decoding.createDecoder(message);
  const encoder = encoding.createEncoder();
  switch (decoding.readVarUint(decoder)) {
    case SYNC:
      encoding.writeVarUint(encoder, SYNC);
      sync.readSyncMessage(decoder, encoder, room.doc, socket);
      if (encoding.length(encoder) > 1) socket.send(encoding.toUint8Array(encoder));
      break;
    case AWARENESS:
      awareness.applyAwarenessUpdate(room.awareness, decoding.readVarUint8Array(decoder), socket);
  }
}

function greet(room: Room, socket: WebSocket): void {
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, SYNC);
  sync.writeSyncStep1(encoder, room.doc);
  socket.send(encoding.toUint8Array(encoder));
  const present = [...room.awareness.getStates().keys()];
  if (present.length === 0) return;
  const shown = encoding.createEncoder();
  encoding.writeVarUint(shown, AWARENESS);
  encoding.writeVarUint8Array(shown, awareness.encodeAwarenessUpdate(room.awareness, present));
  socket.send(encoding.toUint8Array(shown));
}

const server = createServer();
const sockets = new WebSocketServer({ server });
sockets.on('connection', (socket, request) => {
  const name = request.url!.split('?')[0]!;
  const room = roomOf(name);
  room.sockets.set(socket, new Set());
  let alive = true;
  const timer = setInterval(() => {
    if (!alive) socket.terminate();
    alive = false;
    socket.ping();
  }, PING_MS);
  socket.on('pong', () => {
    alive = true;
  });
  socket.on('message', (data) => {
    try {
      receive(room, socket, data as Uint8Array);
    } catch (error) {
      process.stderr.write(`stock: ${String(error).slice(0, 80)}\n`);
    }
  });
  socket.on('error', () => undefined);
  socket.on('close', () => {
    clearInterval(timer);
    awareness.removeAwarenessStates(room.awareness, [...room.sockets.get(socket)!], null);
    room.sockets.delete(socket);
  });
  greet(room, socket);
});
server.listen(0, '127.0.0.1', () => {
  answerMemory();
  process.send!({ port: (server.address() as AddressInfo).port });
});
