import { describe, expect, test } from 'vitest';
import { scrollFor } from '../../../app/_sheet/inView.ts';

describe('the page follows the music', () => {
  const view = { top: 100, bottom: 500 };
  const row = (top: number) => ({ top, bottom: top + 90 });

  test('not while the row and the one after it are seen', () => {
    expect(scrollFor(view, row(110), row(20), row(200))).toBe(0);
    expect(scrollFor(view, row(410), row(320), null)).toBe(0);
  });
  test('to the top of the free part, where the next would be hidden or the row itself is', () => {
    expect(scrollFor(view, row(400), row(310), row(490))).toBe(300);
    expect(scrollFor(view, row(40), row(490), row(130))).toBe(-60);
    expect(scrollFor(view, row(4000), null, row(4090))).toBe(3900);
  });
  test('never where the row before was out of view: somebody reads elsewhere', () => {
    expect(scrollFor(view, row(900), row(810), row(990))).toBe(0);
    expect(scrollFor(view, row(-200), row(-290), row(-110))).toBe(0);
  });
});
