import * as Y from 'yjs';
import type { RichText } from '../core/areas/area.ts';
import { bad, good, type Result } from '../core/result.ts';

/** What may stand in a rich text, and with which attributes: the editor is set up from the same list. */
export const richNodes: Record<string, readonly string[]> = {
  paragraph: [],
  heading: ['level'],
  bulletList: [],
  orderedList: ['start', 'type'],
  listItem: [],
  taskList: [],
  taskItem: ['checked'],
  blockquote: [],
  hardBreak: [],
};
export const richMarks: readonly string[] = ['bold', 'italic', 'strike'];
/** Characters of one text; a lesson's page is far shorter. */
const LONGEST = 40_000;

/** The fragment as the editor's JSON, with what is not on the list left out. */
export function richTextOf(fragment: Y.XmlFragment): RichText {
  return { type: 'doc', content: childrenOf(fragment) };
}

function childrenOf(parent: Y.XmlFragment | Y.XmlElement): RichText[] {
  const children: RichText[] = [];
  for (const child of parent.toArray()) {
    if (child instanceof Y.XmlText) {
      for (const piece of child.toDelta() as { insert: unknown; attributes?: Record<string, unknown> }[]) {
        if (typeof piece.insert !== 'string') continue;
        const { attributes = {} } = piece;
        const marks = richMarks.filter((mark) => mark in attributes).map((type) => ({ type }));
        const last = children.at(-1);
        // Formatting that changes nothing parts a text in Yjs, until somebody's page tidies it up.
        if (last?.type === 'text' && JSON.stringify(last.marks ?? []) === JSON.stringify(marks))
          last.text += piece.insert;
        else children.push({ type: 'text', text: piece.insert, ...(marks.length > 0 ? { marks } : {}) });
      }
    } else if (child instanceof Y.XmlElement && child.nodeName in richNodes) {
      const attrs = child.getAttributes() as Record<string, unknown>;
      const content = childrenOf(child);
      children.push({
        type: child.nodeName,
        ...(Object.keys(attrs).length > 0 ? { attrs } : {}),
        ...(content.length > 0 ? { content } : {}),
      });
    }
  }
  return children;
}

/** Only nodes, attributes and marks on the list, and not too long. */
export function checkRichText(fragment: Y.XmlFragment): Result<true> {
  let length = 0;
  const stack: (Y.XmlFragment | Y.XmlElement)[] = [fragment];
  for (let node = stack.pop(); node !== undefined; node = stack.pop()) {
    for (const child of node.toArray()) {
      if (child instanceof Y.XmlText) {
        for (const piece of child.toDelta() as { insert: unknown; attributes?: Record<string, unknown> }[]) {
          if (typeof piece.insert !== 'string') return bad('rich text', 'A note may hold text only.');
          length += piece.insert.length;
          for (const [mark, value] of Object.entries(piece.attributes ?? {}))
            if (!richMarks.includes(mark) && value !== null)
              return bad('rich text', `A note may not be formatted as ${mark}.`);
        }
      } else if (child instanceof Y.XmlElement) {
        const allowed = richNodes[child.nodeName];
        if (allowed === undefined) return bad('rich text', `A note may not hold a ${child.nodeName}.`);
        for (const attribute of Object.keys(child.getAttributes()))
          if (!allowed.includes(attribute))
            return bad('rich text', `A ${child.nodeName} in a note may not have ${attribute}.`);
        stack.push(child);
      } else return bad('rich text', 'A note may hold text only.');
    }
  }
  return length > LONGEST ? bad('rich text', 'This note is too long: please split it.') : good(true);
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
