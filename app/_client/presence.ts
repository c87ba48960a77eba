import type { Awareness } from 'y-protocols/awareness';
import { type Role, role as roles } from '@/lib/core/areas/people.ts';
import type { BoardLinks } from './boardLinks.ts';
import type { Me, Presence } from './boardState.ts';

/** Carets are all of one ink, and told apart by the name at them; the protocol wants six digits. */
const CARET = '#26221c';
const isRole = (value: unknown): value is Role => roles.safeParse(value).success;

/** Who is here, and what this page tells of its own person. */
export class People {
  private looking = '';
  private last: Presence[] = [];

  constructor(
    private readonly me: Me,
    private readonly links: BoardLinks,
  ) {}

  /** Under this name the others see this person: beside a row, and at the caret in a text. */
  callMe(name: string): void {
    const user = { name, color: CARET };
    for (const link of this.links.all()) link.provider.awareness.setLocalStateField('user', user);
    this.lookAt(this.looking);
  }

  /** Tells the others where this person is. */
  lookAt(at: string): void {
    this.looking = at;
    this.awareness?.setLocalStateField('at', at);
  }

  /** The same list while nobody comes, goes or looks elsewhere. */
  here(): Presence[] {
    const { awareness } = this;
    const now = awareness ? this.shown(awareness) : [];
    if (JSON.stringify(now) !== JSON.stringify(this.last)) this.last = now;
    return this.last;
  }

  private get awareness(): Awareness | undefined {
    return this.links.of('plan')?.provider.awareness;
  }

  private shown(awareness: Awareness): Presence[] {
    return [...awareness.getStates()]
      .flatMap(([key, state]) => {
        const me = key === awareness.clientID;
        // The server writes who somebody is into what they tell of themselves; of oneself it is known.
        const { name, role } = me ? { name: state.user?.name, role: this.me.role } : (state.user ?? {});
        if (typeof name !== 'string' || !isRole(role)) return [];
        return [{ key, name, role, me, at: typeof state.at === 'string' ? state.at : '' }];
      })
      .sort((a, b) => a.key - b.key);
  }
}
