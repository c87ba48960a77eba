import * as Y from 'yjs';
import type { AreaShape } from '../core/areas/area.ts';
import { strictOf } from '../core/areas/strict.ts';
import { refusalWords } from '../core/refusal.ts';
import { readRegister } from './area.ts';
import { entriesOf, fieldsOf, REGISTERS, registersOf, TEXT, VERSION } from './layout.ts';
import { checkRichText } from './richText.ts';

const LONGEST_ID = 60;
/** Two people may have written at the same time what is too long only together: that stays. */
const WIDE = 4;

/** What is wrong with a register, in one sentence; null when it fits the shape, or is not there. */
export function registerProblem(doc: Y.Doc, shape: AreaShape, name: string): string | null {
  const registers = registersOf(doc);
  if (!registers.has(name)) return null;
  const value = registers.get(name);
  if (name === VERSION)
    return value === shape.version ? null : 'This change was made for another version: please reload.';
  const schema = Object.hasOwn(shape.registers, name) ? shape.registers[name] : undefined;
  if (schema === undefined) return `The ${shape.name} has no ${name.slice(0, 40)}.`;
  const parsed = schema.safeParse(value);
  return parsed.success ? null : `${name}: ${refusalWords(parsed.error)}.`;
}

/** The same of an entry, whose text may be so many times as long as a page may make it. */
export function entryProblem(
  doc: Y.Doc,
  shape: AreaShape,
  collection: string,
  id: string,
  times = 1,
): string | null {
  const entries = entriesOf(doc, collection);
  if (!entries.has(id)) return null;
  const entry = entries.get(id);
  const schema = shape.collections[collection]!;
  if (!(entry instanceof Y.Map) || id.length > LONGEST_ID) return `${collection}: this is no entry.`;
  const parsed = strictOf(schema).safeParse(fieldsOf(entry));
  if (!parsed.success) return `${collection}, ${refusalWords(parsed.error)}.`;
  const text = entry.get(TEXT);
  if (!shape.richText.includes(collection)) return text === undefined ? null : `${collection} hold no text.`;
  if (!(text instanceof Y.XmlFragment)) return `${collection}: the text is missing.`;
  const checked = checkRichText(text, times);
  return checked.ok ? null : checked.problem.sentence;
}

/** Everything in a document that does not fit, for one that is opened; a register that fits is parsed once for all. */
export function problemsOf(doc: Y.Doc, shape: AreaShape): { root: string; key: string; reason: string }[] {
  const problems: { root: string; key: string; reason: string }[] = [];
  const note = (root: string, key: string, reason: string | null) => {
    if (reason !== null) problems.push({ root, key, reason });
  };
  for (const [name, value] of registersOf(doc)) {
    const schema = Object.hasOwn(shape.registers, name) ? shape.registers[name] : undefined;
    if (schema && readRegister(schema, value) !== null) continue;
    note(REGISTERS, name, registerProblem(doc, shape, name));
  }
  for (const collection of Object.keys(shape.collections))
    for (const id of entriesOf(doc, collection).keys())
      note(collection, id, readableProblem(doc, shape, collection, id));
  return problems;
}

function readableProblem(doc: Y.Doc, shape: AreaShape, collection: string, id: string): string | null {
  try {
    return entryProblem(doc, shape, collection, id, WIDE);
  } catch {
    return `${collection}: this cannot be read.`;
  }
}
