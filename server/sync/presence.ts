import type { Grant } from '../../lib/access/session.ts';
import type { Person } from '../../lib/store/nodes.ts';
import { readShown, type Shown } from './frames.ts';
import type { Owners } from './owners.ts';

/** Bytes of one person's cursor and name; more is no cursor. */
const LARGEST_STATE = 4096;
const LONGEST_NAME = 80;
/** Somebody elsewhere of whom nothing is heard for so long has left; stock clients repeat themselves every 15 s. */
const GONE_MS = 30_000;

/**
 * Who is here, and where their cursor is. A connection shows one client, and who that is the server writes itself: nobody
 * can pose as somebody else or fill the room with invented people.
 */
export class Presence {
  private readonly here = new Map<object, Person>();
  /** Those connected to other nodes, by client. */
  private readonly elsewhere = new Map<number, Person & { at: number }>();

  constructor(
    private readonly owners: Owners,
    private readonly now: () => number = () => performance.now(),
  ) {}

  /** What is to be told to everybody; null when nothing in it is this connection's own. */
  take(connection: object, grant: Grant, update: Uint8Array): Person | null {
    const own = this.here.get(connection);
    for (const entry of readShown(update)) {
      // Stock clients also repeat what they heard of others.
      if (own ? entry.client !== own.client || entry.clock < own.clock : !this.mayBind(entry, grant))
        continue;
      const json = entry.json === 'null' ? 'null' : stamped(entry.json, grant);
      if (json === null) continue;
      const person = { ...entry, json, membership: grant.membership };
      this.here.set(connection, person);
      this.elsewhere.delete(entry.client);
      return person;
    }
    return null;
  }

  /** What to tell the others when a connection has gone; null when it had shown nobody. */
  leave(connection: object): Person | null {
    const own = this.here.get(connection);
    this.here.delete(connection);
    return own ? { ...own, clock: own.clock + 1, json: 'null' } : null;
  }

  all(): Person[] {
    const since = this.now() - GONE_MS;
    for (const [client, { at }] of this.elsewhere) if (at < since) this.elsewhere.delete(client);
    return [...this.own(), ...this.elsewhere.values()].filter(({ json }) => json !== 'null');
  }

  /** Those connected to this node. */
  own(): Person[] {
    return [...this.here.values()];
  }

  /** Notes what another node has said of its people, and gives what of it is new. */
  hear(people: readonly Person[]): Person[] {
    const own = new Set(this.own().map(({ client }) => client));
    return people.filter((person) => {
      const known = this.elsewhere.get(person.client);
      // Somebody may have come over to this node before the other one has seen them go.
      if (own.has(person.client) || (known && known.clock > person.clock)) return false;
      if (!this.owners.show(person.client, person.membership)) return false;
      this.elsewhere.set(person.client, { ...person, at: this.now() });
      return known?.clock !== person.clock || known.json !== person.json;
    });
  }

  /** A client that comes again while its old connection still hangs takes its place. */
  private mayBind(entry: Shown, grant: Grant): boolean {
    if (entry.json === 'null' || !this.owners.show(entry.client, grant.membership)) return false;
    for (const [connection, shown] of this.here)
      if (shown.client === entry.client) this.here.delete(connection);
    return true;
  }
}

function stamped(json: string, grant: Grant): string | null {
  if (json.length > LARGEST_STATE) return null;
  const state: unknown = JSON.parse(json);
  if (typeof state !== 'object' || state === null || Array.isArray(state)) return null;
  const { user } = state as { user?: unknown };
  const told = typeof user === 'object' && user !== null ? (user as Record<string, unknown>) : {};
  const name = typeof told.name === 'string' ? told.name.slice(0, LONGEST_NAME) : '';
  // Six hex digits, because the cursor's colour ends in a style.
  const color = typeof told.color === 'string' && /^#[0-9a-f]{6}$/i.test(told.color) ? told.color : '#555555';
  return JSON.stringify({
    ...state,
    user: { name, color, role: grant.role, membership: grant.membership },
  });
}
