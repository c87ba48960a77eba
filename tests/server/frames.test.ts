import { expect, test } from 'vitest';
import * as Y from 'yjs';
import { applyChanges } from '../../lib/board/area.ts';
import { newArea } from '../../lib/board/layout.ts';
import { areas } from '../../lib/core/areas/board.ts';
import { awarenessFrame, readFrame, step1Frame, step2Frame, updateFrame } from '../../server/sync/frames.ts';

const doc = newArea(areas.plan);
applyChanges(doc, areas.plan, [{ register: 'title', value: 'First dance' }]);
const update = Y.encodeStateAsUpdate(doc);

/** As a frame lies in a buffer that others share, with their bytes after it. */
const amongOthers = (frame: Uint8Array): Uint8Array =>
  Buffer.concat([frame, Buffer.from('what somebody else has sent')]).subarray(0, frame.length);

test('a frame that is cut off at any byte is refused, whatever lies after it in memory', () => {
  const shown = { client: 7, clock: 1, json: '{"user":{"name":"Ida"}}' };
  const question = step1Frame(Y.encodeStateVector(doc));
  for (const frame of [updateFrame(update), step2Frame(update), question, awarenessFrame([shown])]) {
    expect(readFrame(amongOthers(frame))).toEqual(readFrame(frame));
    for (let length = 3; length < frame.length; length++)
      expect(() => readFrame(amongOthers(frame.slice(0, length)))).toThrow();
  }
});
