import type { Services } from '../../lib/access/services.ts';
import { instructorGrant } from '../../lib/access/session.ts';
import { bad, good } from '../../lib/core/result.ts';
import type { EmbeddedStore, Store } from '../../lib/store/store.ts';
import type { ControlWork } from '../control.ts';
import { newPassphrase } from './account.ts';

export function makeLink(store: Store, links: Services['links'], address: string): ControlWork['link'] {
  return async (board, role, days) => {
    if (!(await store.boards.has(board))) return bad('not found', `There is no board ${board}.`);
    const made = await links.make(instructorGrant(board), role, days);
    return made.ok ? good(`${address}/join/${made.value.token}`) : made;
  };
}

/** What whoever runs the server may do from a shell, by the running server or, without one, on its store. */
export function controlWork(
  store: EmbeddedStore,
  links: Services['links'],
  address: string,
  onSignOut: (session: string) => void,
): ControlWork {
  return {
    passphrase: (name) => newPassphrase(store, name, onSignOut),
    link: makeLink(store, links, address),
    async backup(file) {
      await store.backup(file);
      return good(file);
    },
  };
}
