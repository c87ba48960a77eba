import type { ReactNode } from 'react';
import type { RichText } from '@/lib/core/areas/area.ts';
import './rich.css';

/** A text to read: drawn from plain data, without the editor, so nothing here can write. */
export function RichView({ text, empty = '' }: { text: RichText; empty?: string }) {
  const blocks = (text.content ?? []).map(block);
  if (!hasWords(text)) return empty ? <p className="text-soft">{empty}</p> : null;
  return <div className="rich">{blocks}</div>;
}

/** Whether anything was written. */
export function hasWords(text: RichText): boolean {
  return Boolean(text.text?.trim()) || (text.content ?? []).some(hasWords);
}

const headings = { 2: 'h2', 3: 'h3', 4: 'h4' } as const;

/** The place in the text is its key: plain data has no other. */
function block(node: RichText, key: number): ReactNode {
  const inside = (node.content ?? []).map(block);
  switch (node.type) {
    case 'text':
      return marked(node, key);
    case 'hardBreak':
      return <br key={key} />;
    case 'paragraph':
      return <p key={key}>{inside.length > 0 ? inside : <br />}</p>;
    case 'heading': {
      const Heading = headings[Number(node.attrs?.level) as 2 | 3 | 4] ?? 'h4';
      return <Heading key={key}>{inside}</Heading>;
    }
    case 'bulletList':
      return <ul key={key}>{inside}</ul>;
    case 'orderedList':
      return (
        <ol key={key} start={Number(node.attrs?.start ?? 1)}>
          {inside}
        </ol>
      );
    case 'taskList':
      return (
        <ul key={key} data-type="taskList">
          {inside}
        </ul>
      );
    case 'taskItem': {
      const done = node.attrs?.checked === true;
      return (
        <li key={key} data-checked={done}>
          <label>
            <input type="checkbox" checked={done} disabled aria-label={done ? 'done' : 'to do'} readOnly />
          </label>
          <div>{inside}</div>
        </li>
      );
    }
    case 'listItem':
      return <li key={key}>{inside}</li>;
    case 'blockquote':
      return <blockquote key={key}>{inside}</blockquote>;
    default:
      return null;
  }
}

function marked(node: RichText, key: number): ReactNode {
  let words: ReactNode = node.text;
  for (const { type } of node.marks ?? []) {
    if (type === 'bold') words = <strong>{words}</strong>;
    if (type === 'italic') words = <em>{words}</em>;
    if (type === 'strike') words = <s>{words}</s>;
  }
  return <span key={key}>{words}</span>;
}
