import { describe, expect, it } from 'vitest';
import { type Branch, countMade, linkTree, makerWords } from '../../../app/_studio/linkTree.ts';
import type { LinkSummary } from '../../../lib/protocol/api.ts';

const link = (id: string, parent: string | null, role: LinkSummary['role'] = 'crew'): LinkSummary => ({
  ...{ id, parent, role },
  madeAt: '2031-05-03T10:00:00.000Z',
  endsAt: null,
  browsers: 0,
  frozenAt: null,
});
const links = [link('a', null, 'couple'), link('b', 'a'), link('c', 'gone'), link('d', 'b'), link('e', 'a')];
const shape = ({ link: { id }, made }: Branch): unknown => [id, ...made.map(shape)];

describe('the links of a board', () => {
  it('stand under those with which they were made, or at the top where those are not told', () => {
    const tree = linkTree(links);
    expect(tree.map(shape)).toEqual([['a', ['b', ['d']], ['e']], ['c']]);
    expect(tree.map(countMade)).toEqual([3, 0]);
  });

  it('say whose doing they were, as who looks knows them', () => {
    const words = (id: string, role: 'instructor' | 'couple', own: string) =>
      makerWords(links.find((one) => one.id === id)!, links, { role, own });
    expect(words('a', 'instructor', 'instructor')).toBe('');
    expect(words('b', 'instructor', 'instructor')).toBe('by the couple’s link of 3 May 2031');
    expect(words('c', 'instructor', 'instructor')).toBe('with another link');
    expect(words('a', 'couple', 'x')).toBe('by the instructor');
    expect(words('b', 'couple', 'a')).toBe('with your link');
  });
});
