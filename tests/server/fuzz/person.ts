import * as Y from 'yjs';
import { textOf } from '../../../lib/board/area.ts';
import { entriesOf } from '../../../lib/board/layout.ts';
import { closings } from '../../../lib/protocol/close.ts';
import { AT, type Attacked } from '../attacks/harmless.ts';
import { Line } from '../attacks/line.ts';
import { collections, honestEntry } from '../attacks/siege.ts';
import { grantFor } from '../attacks/site.ts';
import { Speaker } from '../attacks/speaker.ts';
import type { FuzzedNode } from './node.ts';
import type { Random } from './random.ts';

/** What somebody does, by how often; in the plan there is no text. */
const weights = { add: 5, words: 4, bold: 2, field: 2, remove: 1 };

/** Somebody honest with one area open, now at this node and now at that, or at none. */
export class FuzzedPerson {
  readonly speaker: Speaker;
  line: Line | null = null;
  node: FuzzedNode | null = null;
  /** Their link was taken back: they come no more. */
  isRevoked = false;
  /** Their link may only read; they write nothing more, but what they wrote before may still be on its way. */
  isFrozen = false;
  /** With which codes they were sent away for good, though they did nothing wrong. */
  readonly refused: string[] = [];
  private cameFrozen = false;
  private made = 0;

  constructor(
    readonly name: string,
    readonly area: Attacked,
    private readonly board: string,
    private readonly random: Random,
  ) {
    this.speaker = new Speaker(area, () => 1 + random.below(2 ** 31));
  }

  async come(node: FuzzedNode): Promise<void> {
    if (this.isRevoked || this.speaker.isConnected) return;
    this.takeRefusal();
    const line = new Line(true);
    this.line = line;
    this.node = node;
    this.cameFrozen = this.isFrozen;
    this.speaker.connect(line);
    const grant = { ...grantFor(this.board, 'instructor', this.name), frozen: this.isFrozen };
    await node.site.enter(grant, this.area, line).catch(() => line.leave());
  }

  leave(): void {
    this.line?.leave();
  }

  revoke(): void {
    this.isRevoked = true;
    this.line?.close(closings.revoked.code);
  }

  /** Or the other way round; either way they come back with what they may do now. */
  freeze(): void {
    this.isFrozen = !this.isFrozen;
    this.line?.close(closings.changed.code);
  }

  act(): void {
    const { random, speaker, area, name } = this;
    const collection = collections[area];
    const own = [...entriesOf(speaker.doc, collection).keys()].filter((id) => id.startsWith(`${name}-`));
    const kind = random.weighted(area === 'plan' ? { ...weights, words: 0, bold: 0 } : weights);
    if (kind === 'add' || own.length === 0) {
      const id = `${name}-${++this.made}`;
      speaker.write([id], honestEntry(area, id, name));
      return;
    }
    const id = random.one(own);
    if (kind === 'remove') {
      speaker.forget(id);
      speaker.write([], { collection, id, fields: null });
    } else if (kind === 'field') {
      const fields = {
        plan: { at: random.below(100) },
        lessons: { title: `${this.made}` },
        remarks: { at: AT },
      }[area];
      speaker.write([], { collection, id, fields });
    } else speaker.gesture([], (doc) => this.type(doc, kind, id));
  }

  /** In a lesson anybody writes; in a remark only its author. */
  private type(doc: Y.Doc, kind: 'words' | 'bold', own: string): void {
    const { random, area } = this;
    const ids = area === 'lessons' ? [...entriesOf(doc, 'lessons').keys()] : [own];
    const text = textOf(doc, collections[area], random.one(ids));
    if (!text) return;
    const words = wordsIn(text) ?? addParagraph(text);
    if (kind === 'words') {
      const letters = 'lantern'.slice(random.below(6));
      words.insert(random.below(words.length + 1), letters, random.next() < 0.3 ? { bold: {} } : {});
    } else if (words.length > 0) {
      const from = random.below(words.length);
      words.format(from, 1 + random.below(words.length - from), { bold: random.next() < 0.5 ? {} : null });
    }
    if (random.next() < 0.2 && words.length > 3) words.delete(random.below(words.length - 2), 2);
  }

  /** As a page does that was refused for good: it begins anew. */
  private takeRefusal(): void {
    const { code = null, reason = '' } = this.line ?? {};
    if (code === null || code < 4400 || code > 4499) return;
    // Words that were under way when the link was frozen.
    if (code !== closings.noRight.code || !this.cameFrozen)
      this.refused.push(`${this.name}: ${code} ${reason}`);
    this.speaker.beginAnew();
  }
}

function wordsIn(text: Y.XmlFragment): Y.XmlText | null {
  for (const part of text.toArray())
    if (part instanceof Y.XmlElement)
      for (const child of part.toArray()) if (child instanceof Y.XmlText) return child;
  return null;
}

function addParagraph(text: Y.XmlFragment): Y.XmlText {
  const paragraph = new Y.XmlElement('paragraph');
  const words = new Y.XmlText();
  text.insert(0, [paragraph]);
  paragraph.insert(0, [words]);
  return words;
}
