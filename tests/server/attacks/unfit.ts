import * as Y from 'yjs';

/** What the editor of notes writes, told here once more: what the server allows is not to be held against itself. */
const tags = new Set([
  ...['paragraph', 'heading', 'bulletList', 'orderedList', 'listItem'],
  ...['taskList', 'taskItem', 'blockquote', 'hardBreak'],
]);
/** Far deeper than anybody's lists in lists, and far from where a page or a paper fails (JSON.stringify at some 3,000). */
const DEEPEST = 100;

/** What no reader of this document should meet, in a sentence; null when there is nothing of that. Looks at the types themselves. */
export function unfitIn(doc: Y.Doc): string | null {
  const stack: { value: unknown; depth: number; way: string }[] = [...doc.share].map(([name, value]) => ({
    ...{ value, depth: 0, way: name },
  }));
  for (let next = stack.pop(); next !== undefined; next = stack.pop()) {
    const { value, depth, way } = next;
    if (depth > DEEPEST) return `${way.slice(0, 80)}: ${depth} deep`;
    const push = (name: string, child: unknown) =>
      stack.push({ value: child, depth: depth + 1, way: `${way}/${name.slice(0, 20)}` });
    if (value instanceof Y.XmlText) {
      for (const { insert, attributes } of value.toDelta() as { insert: unknown; attributes?: object }[]) {
        if (typeof insert !== 'string') return `${way}: words that are none`;
        for (const [mark, word] of Object.entries(attributes ?? {})) push(mark, word);
      }
    } else if (value instanceof Y.XmlElement || value instanceof Y.XmlFragment) {
      if (value instanceof Y.XmlElement) {
        if (!tags.has(value.nodeName)) return `${way}: a ${value.nodeName}`;
        for (const [name, word] of Object.entries(value.getAttributes() as object)) {
          if (typeof word === 'object' && word !== null) return `${way}: ${name} is no plain word`;
          push(name, word);
        }
      }
      for (const child of value.toArray()) push('part', child);
    } else if (value instanceof Y.Map) for (const [name, child] of value) push(name, child);
    else if (value instanceof Y.AbstractType) return `${way}: a ${value.constructor.name}`;
    else if (Array.isArray(value)) for (const child of value) push('', child);
    else if (typeof value === 'object' && value !== null) {
      const prototype: unknown = Object.getPrototypeOf(value);
      if (prototype !== Object.prototype) return `${way}: no plain object`;
      for (const [name, child] of Object.entries(value)) push(name, child);
    } else if (!isPlain(value)) return `${way}: ${String(value)}`;
  }
  return null;
}

/** Comes back from JSON as it was. */
const isPlain = (value: unknown): boolean =>
  value === null || ['string', 'boolean'].includes(typeof value) || Number.isFinite(value);
