import type { Services } from '../../lib/access/services.ts';
import { studioMoves } from '../../lib/protocol/api.ts';
import type { Store } from '../../lib/store/store.ts';

const MOVES = 'moves';

export function moveService(store: Store): Services['moves'] {
  return {
    async read() {
      const text = await store.settings.get(MOVES);
      return text === null ? { moves: [] } : studioMoves.parse(JSON.parse(text));
    },
    write: (moves) => store.settings.set(MOVES, JSON.stringify(moves)),
  };
}
