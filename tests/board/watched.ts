import * as Y from 'yjs';
import { applyChanges, readArea } from '../../lib/board/area.ts';
import { newArea } from '../../lib/board/layout.ts';
import { LostWatch } from '../../lib/board/lostWatch.ts';
import { areas } from '../../lib/core/areas/board.ts';
import type { PlanChange } from '../../lib/core/areas/change.ts';
import type { Lost } from '../../lib/core/areas/lost.ts';

/** Somebody's page: a plan, and what was told there since it was last looked at. */
export class Page {
  readonly doc = newArea(areas.plan);
  private readonly watch: LostWatch;
  private heard: Lost[] = [];

  constructor(client: number) {
    this.doc.clientID = client;
    this.watch = new LostWatch(this.doc, areas.plan, (lost) => this.heard.push(...lost));
  }

  change(...changes: PlanChange[]): this {
    applyChanges(this.doc, areas.plan, changes);
    return this;
  }

  /** What the other page has and this one has not. */
  newsOf(other: Page): Uint8Array {
    return Y.encodeStateAsUpdate(other.doc, Y.encodeStateVector(this.doc));
  }

  take(update: Uint8Array): this {
    this.watch.during(update, () => Y.applyUpdate(this.doc, update));
    return this;
  }

  hear(other: Page): this {
    return this.take(this.newsOf(other));
  }

  get told(): Lost[] {
    return this.heard.splice(0);
  }

  get plan() {
    return readArea(this.doc, areas.plan);
  }
}

/** Both hear the other at once, as two who come together do. */
export function meet(one: Page, other: Page): void {
  const [forOne, forOther] = [one.newsOf(other), other.newsOf(one)];
  one.take(forOne);
  other.take(forOther);
}
