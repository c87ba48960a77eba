import { once } from 'node:events';
import { type AddressInfo, connect, createServer, type Socket } from 'node:net';

/** A person's line to the house, which can be cut and mended like a phone's network. */
export interface Line {
  /** The same page or link, by way of this line. */
  by(address: string): string;
  cut(): void;
  mend(): void;
  close(): void;
}

/** The browser's own offline switch leaves open WebSockets alone; a line of our own drops them as a lost network does. */
export async function lineTo(house: string): Promise<Line> {
  const target = new URL(house);
  const sockets = new Set<Socket>();
  let down = false;
  const server = createServer((near) => {
    if (down) {
      near.destroy();
      return;
    }
    const far = connect(Number(target.port), target.hostname);
    for (const socket of [near, far]) {
      sockets.add(socket);
      socket.on('error', () => socket.destroy());
      socket.on('close', () => {
        sockets.delete(socket);
        near.destroy();
        far.destroy();
      });
    }
    near.pipe(far).pipe(near);
  });
  server.listen(0, target.hostname);
  await once(server, 'listening');
  const { port } = server.address() as AddressInfo;
  const drop = () => {
    for (const socket of sockets) socket.destroy();
  };
  return {
    by: (address) => {
      const moved = new URL(address);
      moved.port = String(port);
      return moved.href;
    },
    cut() {
      down = true;
      drop();
    },
    mend() {
      down = false;
    },
    close() {
      drop();
      server.close();
    },
  };
}
