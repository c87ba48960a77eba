import * as Y from 'yjs';
import type { RichText } from '../core/areas/area.ts';
import { bad, good, type Result } from '../core/result.ts';

type Fits = (value: unknown) => boolean;
const whole =
  (from: number, to: number): Fits =>
  (value) =>
    Number.isInteger(value) && (value as number) >= from && (value as number) <= to;

/** What may stand in a rich text, and with which attributes: the editor is set up from the same list. */
export const richNodes: ReadonlyMap<string, ReadonlyMap<string, Fits>> = new Map(
  Object.entries<Record<string, Fits>>({
    paragraph: {},
    heading: { level: whole(1, 6) },
    bulletList: {},
    // As HTML has them, for what is pasted.
    orderedList: {
      start: whole(-1e6, 1e6),
      type: (value) => value === null || (typeof value === 'string' && value.length <= 20),
    },
    listItem: {},
    taskList: {},
    taskItem: { checked: (value) => typeof value === 'boolean' },
    blockquote: {},
    hardBreak: {},
  }).map(([name, attributes]) => [name, new Map(Object.entries(attributes))]),
);
export const richMarks: readonly string[] = ['bold', 'italic', 'strike'];

/** How far nodes may lie inside each other: a list in a list takes two. Reading goes no deeper, whatever a document holds. */
export const DEEPEST = 24;
/** Characters of one text; a lesson's page is far shorter. */
const LONGEST = 40_000;
/** Paragraphs, lists, their items and pieces of text in one text. */
const MOST_NODES = 4000;

/** The fragment as the editor's JSON, with what is not on the list left out. */
export function richTextOf(fragment: Y.XmlFragment): RichText {
  return { type: 'doc', content: childrenOf(fragment, 0) };
}

function childrenOf(parent: Y.XmlFragment | Y.XmlElement, depth: number): RichText[] {
  const children: RichText[] = [];
  for (const child of parent.toArray()) {
    if (child instanceof Y.XmlText) {
      for (const piece of child.toDelta() as { insert: unknown; attributes?: Record<string, unknown> }[]) {
        if (typeof piece.insert !== 'string') continue;
        const { attributes = {} } = piece;
        const marks = richMarks.filter((mark) => Object.hasOwn(attributes, mark)).map((type) => ({ type }));
        const last = children.at(-1);
        // Formatting that changes nothing parts a text in Yjs, until somebody's page tidies it up.
        if (last?.type === 'text' && JSON.stringify(last.marks ?? []) === JSON.stringify(marks))
          last.text += piece.insert;
        else children.push({ type: 'text', text: piece.insert, ...(marks.length > 0 ? { marks } : {}) });
      }
    } else if (child instanceof Y.XmlElement && depth < DEEPEST && richNodes.has(child.nodeName)) {
      const attrs = fittingAttributes(child);
      const content = childrenOf(child, depth + 1);
      children.push({
        type: child.nodeName,
        ...(Object.keys(attrs).length > 0 ? { attrs } : {}),
        ...(content.length > 0 ? { content } : {}),
      });
    }
  }
  return children;
}

function fittingAttributes(element: Y.XmlElement): Record<string, unknown> {
  const written = Object.entries(element.getAttributes() as Record<string, unknown>);
  return Object.fromEntries(
    written.filter(([name, value]) => richNodes.get(element.nodeName)?.get(name)?.(value)),
  );
}

/** Only nodes, attributes and marks on the list, not too deep, and not more than so many times too long. */
export function checkRichText(fragment: Y.XmlFragment, times = 1): Result<true> {
  const problem = nodeProblem(fragment, times);
  return problem === null ? good(true) : bad('rich text', problem);
}

function nodeProblem(fragment: Y.XmlFragment, times: number): string | null {
  let length = 0;
  let nodes = 0;
  const stack: [node: Y.XmlFragment | Y.XmlElement, depth: number][] = [[fragment, 0]];
  for (let next = stack.pop(); next !== undefined; next = stack.pop()) {
    const [node, depth] = next;
    for (const child of node.toArray()) {
      nodes += 1;
      if (child instanceof Y.XmlText) {
        for (const piece of child.toDelta() as { insert: unknown; attributes?: Record<string, unknown> }[]) {
          if (typeof piece.insert !== 'string') return 'A note may hold text only.';
          length += piece.insert.length;
          for (const [mark, value] of Object.entries(piece.attributes ?? {}))
            if (!richMarks.includes(mark) && value !== null)
              return `A note may not be formatted as ${mark.slice(0, 40)}.`;
        }
      } else if (child instanceof Y.XmlElement) {
        if (depth >= DEEPEST) return TOO_DEEP;
        let problem = elementProblem(child.nodeName, '', null);
        const attributes =
          problem === null && child._map.size > 0 ? Object.entries(child.getAttributes()) : [];
        for (const [name, value] of attributes) problem ??= elementProblem(child.nodeName, name, value);
        if (problem !== null) return problem;
        stack.push([child, depth + 1]);
      } else return 'A note may hold text only.';
    }
    if (nodes > MOST_NODES * times) return 'This note has too many parts: please split it.';
  }
  return length > LONGEST * times ? 'This note is too long: please split it.' : null;
}

export const TOO_DEEP = 'Too much lies inside each other in this note: please take some of it out.';

/** Why an element of this name may not stand in a note, or not with this attribute ('' for none); null when it may. */
export function elementProblem(node: string, attribute: string, value: unknown): string | null {
  const allowed = richNodes.get(node);
  if (allowed === undefined) return `A note may not hold a ${node.slice(0, 40)}.`;
  if (attribute === '') return null;
  const fits = allowed.get(attribute);
  if (fits === undefined) return `A ${node} in a note may not have ${attribute.slice(0, 40)}.`;
  return fits(value) ? null : `The ${attribute} of a ${node} in a note is none that there is.`;
}

/** Writes JSON into an empty fragment; for seeding and import. */
export function writeRichText(fragment: Y.XmlFragment, text: RichText): void {
  const build = (node: RichText): Y.XmlElement | Y.XmlText => {
    if (node.type === 'text') {
      const piece = new Y.XmlText();
      const marks = Object.fromEntries((node.marks ?? []).map((mark) => [mark.type, {}]));
      piece.insert(0, node.text ?? '', marks);
      return piece;
    }
    const element = new Y.XmlElement(node.type);
    for (const [name, value] of Object.entries(node.attrs ?? {})) element.setAttribute(name, value as string);
    element.insert(0, (node.content ?? []).map(build));
    return element;
  };
  fragment.insert(0, (text.content ?? []).map(build));
}
