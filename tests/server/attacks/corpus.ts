import * as Y from 'yjs';
import type { Content, Forge } from './forge.ts';
import type { Attacked, Spots } from './harmless.ts';

/** Any of Yjs's shared types. */
type Shared = Parameters<Forge['type']>[2];

/** Something that nobody honest sends, beside or after a harmless entry. */
export interface Attack {
  name: string;
  area: Attacked;
  put(forge: Forge, spots: Spots): void;
}
/** Attacks of one family. */
export type Family = Record<string, readonly Attack[]>;

/** Every name that a plain object inherits. */
const inherited = Object.getOwnPropertyNames(Object.prototype);
const texts = ['lessons', 'remarks'] as const;
const all = ['plan', ...texts] as const;
const roots = { plan: 'cues', lessons: 'lessons', remarks: 'remarks' };
const kinds: readonly [string, (name: string) => Shared][] = [
  ['map', () => new Y.Map()],
  ['list', () => new Y.Array()],
  ['text', () => new Y.Text()],
  ['element', (name) => new Y.XmlElement(name)],
  ['fragment', () => new Y.XmlFragment()],
  ['hook', (name) => new Y.XmlHook(name)],
  ['XML text', () => new Y.XmlText()],
];
const ofAreas = (areas: readonly Attacked[], make: (area: Attacked) => Attack[]): Attack[] =>
  areas.flatMap(make);

/** Each inherited name in each place where a name may stand. */
export const names: Family = Object.fromEntries(
  inherited.map((name) => [
    name,
    [
      ...ofAreas(all, (area) => [
        { name: 'as a root', area, put: (forge) => void forge.any(name, 'a', 1) },
        { name: 'as a list at the root', area, put: (forge) => void forge.any(name, null, 1) },
        { name: 'as a register', area, put: (forge) => void forge.any('registers', name, 1) },
        { name: 'as an entry of no kind', area, put: (forge) => void forge.any(roots[area], name, 1) },
        {
          name: 'as an empty entry',
          area,
          put: (forge) => void forge.type(roots[area], name, new Y.Map()),
        },
        { name: 'as a field', area, put: (forge, { entry }) => void forge.any(entry, name, 1) },
        {
          name: 'as a field that is a map',
          area,
          put: (forge, { entry }) => void forge.any(forge.type(entry, name, new Y.Map()), name, 1),
        },
      ]),
      ...ofAreas(['plan'], (area) => [
        {
          name: 'as the id of an entry that fits',
          area,
          put: (forge) => {
            const entry = forge.type('cues', name, new Y.Map());
            forge.any(entry, 'at', 3);
            forge.any(entry, 'word', name);
          },
        },
        {
          name: 'as a key in a value',
          area,
          put: (forge) => void forge.any('registers', 'target', { length: 185, within: 20, [name]: 1 }),
        },
      ]),
      ...ofAreas(texts, (area) => [
        {
          name: 'as a tag',
          area,
          put: (forge, { text }) => void forge.type(text, null, new Y.XmlElement(name)),
        },
        {
          name: 'as a tag in a heading',
          area,
          put: (forge, { heading }) => void forge.type(heading, null, new Y.XmlElement(name)),
        },
        {
          name: 'as a hook',
          area,
          put: (forge, { text }) => void forge.type(text, null, new Y.XmlHook(name)),
        },
        {
          name: 'as an attribute',
          area,
          put: (forge, { heading }) => void forge.any(heading, name, 'x'),
        },
        {
          name: 'as an attribute of the text',
          area,
          put: (forge, { text }) => void forge.any(text, name, 'x'),
        },
        {
          name: 'as an attribute of words',
          area,
          put: (forge, { words }) => void forge.any(words, name, 'x'),
        },
        ...[{}, true, null, 'x'].map(
          (value): Attack => ({
            name: `as a mark of ${JSON.stringify(value)}`,
            area,
            put: (forge, { heading }) => putMarked(forge, heading, name, value),
          }),
        ),
      ]),
    ],
  ]),
);

/** Words of their own in an element, from a mark on. */
function putMarked(forge: Forge, element: Y.ID, mark: string, value: unknown): void {
  const words = forge.type(element, null, new Y.XmlText());
  forge.put(words, null, new Y.ContentFormat(mark, value as object));
  forge.put(words, null, new Y.ContentString('marked'));
}

const deepList = (depth: number): unknown => {
  let value: unknown = 1;
  for (let level = 0; level < depth; level++) value = [value];
  return value;
};
const deepObject = (depth: number): unknown => {
  let value: unknown = 1;
  for (let level = 0; level < depth; level++) value = { a: value };
  return value;
};

/** Written by hand, as it goes over the line: JSON.stringify itself fails at some 3,000. */
const deepJson = (depth: number): string => `${'{"a":'.repeat(depth)}1${'}'.repeat(depth)}`;

/** Every kind of value that `lib0` writes, and the edges of each. */
const values: readonly [string, unknown][] = [
  ['undefined', undefined],
  ['null', null],
  ['a whole number', 7],
  ['a large whole number', 2 ** 53 - 1],
  ['a float of 32 bits', 0.5],
  ['a float of 64 bits', 0.1],
  ['not a number', Number.NaN],
  ['infinity', Number.POSITIVE_INFINITY],
  ['infinity below', Number.NEGATIVE_INFINITY],
  ['minus zero', -0],
  ['a BigInt', 12n],
  ['a large BigInt', 2n ** 62n],
  ['true', true],
  ['false', false],
  ['an empty text', ''],
  ['half a letter', 'a\ud800b\udc00'],
  ['a NUL', 'a\u0000b'],
  ['a long text', 'x'.repeat(5000)],
  ['an empty list', []],
  ['a list', [1, 'a', null, undefined]],
  ['an object', { a: 1, b: [2] }],
  ['an object with __proto__', JSON.parse('{"__proto__":{"level":2},"constructor":1}')],
  ['an object with toJSON', JSON.parse('{"toJSON":"x","toString":1,"then":1}')],
  ['an object that holds a BigInt', { a: [{ b: 3n }] }],
  ['an object that holds bytes', { a: [new Uint8Array([1, 2])] }],
  ['bytes', new Uint8Array([1, 2, 3])],
];

/** Every kind of content that Yjs has. */
const contents: readonly [string, () => Content][] = [
  ...values.map(([name, value]): [string, () => Content] => [name, () => new Y.ContentAny([value])]),
  // As versions of Yjs wrote values that are long gone.
  ...[undefined, null, 7, 'x', [1], { a: 1 }].map((value): [string, () => Content] => [
    `${JSON.stringify(value)}, as JSON`,
    () => new Y.ContentJSON([value]),
  ]),
  ['several values at once', () => new Y.ContentAny([1, 12n, undefined])],
  ['binary', () => new Y.ContentBinary(new Uint8Array([1, 2, 3]))],
  ['an embed', () => new Y.ContentEmbed({ image: 'x' })],
  ['an embed of a text', () => new Y.ContentEmbed('x' as unknown as object)],
  ['an embed of nothing', () => new Y.ContentEmbed(null as unknown as object)],
  ['a format', () => new Y.ContentFormat('bold', {})],
  ['a format of no kind', () => new Y.ContentFormat('constructor', { a: 1 })],
  ['a document', () => new Y.ContentDoc(new Y.Doc())],
  ['words', () => new Y.ContentString('words')],
  ['something removed', () => new Y.ContentDeleted(3)],
  ...kinds.map(([name, make]): [string, () => Content] => [
    `a ${name}`,
    () => new Y.ContentType(make('paragraph')),
  ]),
];

type Place = (forge: Forge, spots: Spots, content: Content) => void;
const at =
  (spot: keyof Spots, key: string | null): Place =>
  (forge, spots, content) =>
    void forge.put(spots[spot], key, content);

/** Every place at which content can be put. */
const places: readonly [string, readonly Attacked[], Place][] = [
  ...['title', 'target', 'edit', 'lessonsLeft', 'settled', 'version', 'nothing'].map(
    (register): [string, readonly Attacked[], Place] => [
      `the register ${register}`,
      ['plan'],
      (forge, _, content) => void forge.put('registers', register, content),
    ],
  ),
  [
    'a register of the version',
    texts,
    (forge, _, content) => void forge.put('registers', 'version', content),
  ],
  ['a list among the registers', all, (forge, _, content) => void forge.put('registers', null, content)],
  ['an entry', ['plan'], (forge, _, content) => void forge.put('cues', 'x', content)],
  ['a lesson', ['lessons'], (forge, _, content) => void forge.put('lessons', 'x', content)],
  ['a remark', ['remarks'], (forge, _, content) => void forge.put('remarks', 'x', content)],
  ['a list among entries', ['plan'], (forge, _, content) => void forge.put('cues', null, content)],
  ['a list among remarks', ['remarks'], (forge, _, content) => void forge.put('remarks', null, content)],
  ['the field word', ['plan'], at('entry', 'word')],
  ['the field at', all, at('entry', 'at')],
  ['the field writer', texts, at('entry', 'writer')],
  ['a field without a name', all, at('entry', '')],
  ['a list in an entry', all, at('entry', null)],
  ['the text', all, at('entry', 'text')],
  ['a part of a text', texts, at('text', null)],
  ['an attribute of a text', texts, at('text', 'level')],
  ['a part of a heading', texts, at('heading', null)],
  ['the level of a heading', texts, at('heading', 'level')],
  ['whether a task is done', texts, at('task', 'checked')],
  ['a part of a task', texts, at('task', null)],
  ['a part of words', texts, at('words', null)],
  ['an attribute of words', texts, at('words', 'bold')],
  ...kinds.map(([kind, make]): [string, readonly Attacked[], Place] => [
    `a part of a ${kind} in a text`,
    texts,
    (forge, { text }, content) => void forge.put(forge.type(text, null, make('paragraph')), null, content),
  ]),
  ...kinds.map(([kind, make]): [string, readonly Attacked[], Place] => [
    `a key of a ${kind} in a field`,
    ['plan'],
    (forge, { entry }, content) => void forge.put(forge.type(entry, 'word', make('paragraph')), 'a', content),
  ]),
];

/** Every kind of content in every place. */
export const kindsOfValue: Family = Object.fromEntries(
  places.map(([place, areas, put]) => [
    place,
    ofAreas(areas, (area) =>
      contents.map(
        ([name, make]): Attack => ({ name, area, put: (forge, spots) => put(forge, spots, make()) }),
      ),
    ),
  ]),
);

/** Every kind of value as what a mark says. */
export const marks: Family = {
  marks: ofAreas(texts, (area) =>
    ['bold', 'comment'].flatMap((mark) =>
      values
        .filter(([, value]) => value !== undefined && !hasBigInt(value))
        .map(
          ([name, value]): Attack => ({
            name: `${mark}: ${name}`,
            area,
            put: (forge, { heading }) => putMarked(forge, heading, mark, value),
          }),
        ),
    ),
  ),
};

function hasBigInt(value: unknown): boolean {
  if (typeof value === 'bigint') return true;
  return typeof value === 'object' && value !== null && Object.values(value).some(hasBigInt);
}

const depths = [10, 30, 100, 300, 1000, 3000, 5000];

/** Each thing that can be nested, so deep. */
export const nested: Family = Object.fromEntries(
  depths.map((depth) => [
    `${depth} deep`,
    [
      ...ofAreas(texts, (area) => [
        ...['blockquote', 'bulletList', 'constructor'].map(
          (tag): Attack => ({
            name: tag,
            area,
            put(forge, { text }) {
              let parent = text;
              for (let level = 0; level < depth; level++)
                parent = forge.type(parent, null, new Y.XmlElement(tag));
              forge.put(forge.type(parent, null, new Y.XmlText()), null, new Y.ContentString('deep'));
            },
          }),
        ),
        {
          name: 'a list in the level of a heading',
          area,
          put: (forge, { heading }) => void forge.any(heading, 'level', deepList(depth)),
        },
        {
          name: 'an object as a mark',
          area,
          put(forge, { heading }) {
            const words = forge.type(heading, null, new Y.XmlText());
            const format = new Y.ContentFormat('bold', {});
            format.write = (encoder) => {
              encoder.writeKey('bold');
              encoder.writeString(deepJson(depth));
            };
            forge.put(words, null, format);
            forge.put(words, null, new Y.ContentString('marked'));
          },
        },
        {
          name: 'an object as an embed',
          area,
          put(forge, { words }) {
            const embed = new Y.ContentEmbed({});
            embed.write = (encoder) => encoder.writeString(deepJson(depth));
            forge.put(words, null, embed);
          },
        },
      ]),
      ...ofAreas(all, (area) => [
        {
          name: 'a list in a field',
          area,
          put: (forge, { entry }) => void forge.any(entry, 'at', deepList(depth)),
        },
        {
          name: 'maps in a field',
          area,
          put(forge, { entry }) {
            let parent = forge.type(entry, 'at', new Y.Map());
            for (let level = 0; level < depth; level++) parent = forge.type(parent, 'a', new Y.Map());
          },
        },
        {
          name: 'fragments in the text',
          area,
          put(forge, { entry }) {
            let parent = forge.type(entry, 'text', new Y.XmlFragment());
            for (let level = 0; level < depth; level++)
              parent = forge.type(parent, null, new Y.XmlFragment());
          },
        },
      ]),
      ...ofAreas(['plan'], (area) => [
        {
          name: 'an object in a register',
          area,
          put: (forge) => void forge.any('registers', 'edit', deepObject(depth)),
        },
        {
          name: 'an object in the version',
          area,
          put: (forge) => void forge.any('registers', 'version', deepObject(depth)),
        },
      ]),
    ],
  ]),
);
