import * as Y from 'yjs';
import type { AreaData, AreaShape, RichText } from '../../core/areas/area.ts';
import { readArea, textOf } from '../area.ts';
import { newArea } from '../layout.ts';
import { openArea } from '../open.ts';
import { richTextOf } from '../richText.ts';
import { Replay, type Side } from './replay.ts';
import { madeInto } from './rewrite.ts';
import { type TakenBack, takeBack, textKey, wantedTexts } from './takeBack.ts';

/** An update of the log, and whether those wrote it whose writing is taken back. */
export interface PlayedUpdate {
  number: number;
  update: Uint8Array;
  side: Side;
}

/** Updates that are played until others get their turn: some milliseconds. */
const AT_ONCE = 100;

/** An area as it stood, in the shape of today; throws where that cannot be opened either. */
export function readEarlier<S extends AreaShape>(shape: S, updates: readonly Uint8Array[]): AreaData<S> {
  const { doc } = openArea(shape, updates);
  const data = readArea(doc, shape);
  doc.destroy();
  return data;
}

/** The same as one update; throws likewise. */
export function snapshotOf(shape: AreaShape, updates: readonly Uint8Array[]): Uint8Array {
  const { doc } = openArea(shape, updates);
  const snapshot = Y.encodeStateAsUpdate(doc);
  doc.destroy();
  return snapshot;
}

/** What makes the area in this document what it was; null where it is that. The document stays as it is. */
export function restoring<S extends AreaShape>(now: Y.Doc, shape: S, wanted: AreaData<S>): Uint8Array | null {
  const doc = newArea(shape);
  Y.applyUpdate(doc, Y.encodeStateAsUpdate(now));
  const update = madeInto(doc, shape, wanted);
  doc.destroy();
  return update;
}

/**
 * Plays a log from an earlier state on. What is given takes all of theirs back from a document that holds the log; what that holds
 * besides counts as written by others.
 */
export async function playedAgain(
  shape: AreaShape,
  earlier: readonly Uint8Array[],
  log: readonly PlayedUpdate[],
): Promise<(now: Y.Doc) => TakenBack> {
  const replay = new Replay(shape, earlier);
  for (const [index, { update, side, number }] of log.entries()) {
    replay.add(update, side, number);
    if (index % AT_ONCE === AT_ONCE - 1) await othersTurn();
  }
  const texts = await readTexts(shape, earlier, log, replay);
  return (now) => {
    replay.add(
      Y.encodeStateAsUpdate(now, Y.encodeStateVector(replay.doc)),
      'others',
      Number.MAX_SAFE_INTEGER,
    );
    const taken = takeBack(shape, replay, texts);
    replay.doc.destroy();
    return taken;
  };
}

/** The wanted texts as they were, from a second playing that goes as far as it must. */
async function readTexts(
  shape: AreaShape,
  earlier: readonly Uint8Array[],
  log: readonly PlayedUpdate[],
  replay: Replay,
): Promise<Map<string, RichText | null>> {
  const wanted = wantedTexts(replay);
  const texts = new Map<string, RichText | null>();
  if (wanted.length === 0) return texts;
  const again = new Replay(shape, earlier);
  for (const [index, { update, side, number }] of log.entries()) {
    for (const { collection, id, before } of wanted)
      if (before === number) {
        const fragment = textOf(again.doc, collection, id);
        texts.set(textKey(collection, id), fragment && richTextOf(fragment));
      }
    if (texts.size === wanted.length) break;
    again.add(update, side, number);
    if (index % AT_ONCE === AT_ONCE - 1) await othersTurn();
  }
  again.doc.destroy();
  return texts;
}

const othersTurn = (): Promise<void> => new Promise((resolve) => setTimeout(resolve));
