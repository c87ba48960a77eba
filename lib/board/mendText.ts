import * as Y from 'yjs';
import { DEEPEST, elementProblem, richMarks } from './richText.ts';

/** Layers that are removed at once: Yjs removes, and lets go of, one inside the other, and runs out of stack after thousands. */
const LAYERS = 100;

type Node = Y.XmlFragment | Y.XmlElement;
const elementsOf = (node: Node): Y.XmlElement[] =>
  node.toArray().filter((child): child is Y.XmlElement => child instanceof Y.XmlElement);

/** Takes out of a rich text what may not stand in it, and leaves the rest as it is. */
export function mendText(doc: Y.Doc, fragment: Y.XmlFragment): void {
  const layers: Node[][] = [[fragment]];
  for (let layer = layers[0]!; layer.length > 0; layer = layers.at(-1)!)
    layers.push(layer.flatMap(elementsOf));
  for (let from = layers.length - 1; from > DEEPEST; from -= LAYERS)
    doc.transact(() => {
      for (const node of layers[Math.max(from - LAYERS, DEEPEST)]!) removeFrom(node, isElement);
    });
  doc.transact(() => {
    for (const node of layers
      .slice(0, DEEPEST + 1)
      .flat()
      .reverse()) {
      removeFrom(node, isOffTheList);
      if (node instanceof Y.XmlElement) mendAttributes(node);
      for (const child of node.toArray()) if (child instanceof Y.XmlText) mendWords(child);
    }
  });
}

const isElement = (child: unknown): boolean => child instanceof Y.XmlElement;
const isOffTheList = (child: unknown): boolean =>
  child instanceof Y.XmlElement
    ? elementProblem(child.nodeName, '', null) !== null
    : !(child instanceof Y.XmlText);

function removeFrom(node: Node, which: (child: unknown) => boolean): void {
  const children = node.toArray() as unknown[];
  for (let at = children.length - 1; at >= 0; at--) if (which(children[at])) node.delete(at, 1);
}

function mendAttributes(element: Y.XmlElement): void {
  for (const [name, value] of Object.entries(element.getAttributes() as Record<string, unknown>))
    if (elementProblem(element.nodeName, name, value) !== null) element.removeAttribute(name);
}

function mendWords(words: Y.XmlText): void {
  const pieces = words.toDelta() as { insert: unknown; attributes?: Record<string, unknown> }[];
  let at = 0;
  for (const { insert, attributes = {} } of pieces) {
    if (typeof insert !== 'string') {
      words.delete(at, 1);
      continue;
    }
    for (const mark of Object.keys(attributes))
      if (!richMarks.includes(mark)) words.format(at, insert.length, { [mark]: null });
    at += insert.length;
  }
}

/** All words of a text, however deep they lie: a line for each element. */
export function allWords(fragment: Y.XmlFragment): string {
  const lines: string[] = [];
  const stack: Node[] = [fragment];
  for (let node = stack.pop(); node !== undefined; node = stack.pop()) {
    const words = node.toArray().filter((child): child is Y.XmlText => child instanceof Y.XmlText);
    const line = words
      .flatMap((text) => text.toDelta() as { insert: unknown }[])
      .map(({ insert }) => (typeof insert === 'string' ? insert : ''))
      .join('');
    if (line !== '') lines.push(line);
    stack.push(...elementsOf(node).reverse());
  }
  return lines.join('\n');
}
