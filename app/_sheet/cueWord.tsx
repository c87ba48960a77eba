import { type FormEvent, useEffect, useRef, useState } from 'react';
import type { Cue } from '@/lib/core/song/section.ts';
import { useWhenLeft } from '../_ui/whenLeft.ts';

interface Props {
  cue: Cue | null;
  /** What stands here while there is no word. */
  otherwise: string;
  signal: boolean;
  /** What is said of the row to whoever cannot see it: "at 0:17". */
  where: string;
  /** Null for those who only read. */
  onSet: ((word: string) => void) | null;
}

/** Letters of a cue that is half a sentence, and set smaller: its row stays a row. */
const LONG = 40;

/** A word of many wide letters, too, takes no more lines; the rest of it shows under the pointer or with the focus. */
const CUT = '-mx-1 line-clamp-6 px-1 wrap-anywhere';

/** The word that opens a row: the largest thing in it. Choosing it opens a line to write it. */
export function CueWord({ cue, otherwise, signal, where, onSet }: Props) {
  const [writing, setWriting] = useState(false);
  const button = useRef<HTMLButtonElement>(null);
  const wasWriting = useRef(false);
  useEffect(() => {
    if (wasWriting.current && !writing) button.current?.focus();
    wasWriting.current = writing;
  }, [writing]);

  if (writing && onSet) {
    return (
      <WriteWord
        word={cue?.word ?? ''}
        where={where}
        onDone={(word) => {
          setWriting(false);
          if (word !== null && word !== (cue?.word ?? '')) onSet(word);
        }}
      />
    );
  }
  const words = cue ? cue.word : otherwise;
  const look = cue
    ? `text-ink ${words.length > LONG ? 'text-[1.05rem]' : 'text-[1.5rem]'}`
    : 'text-soft text-[1.05rem]';
  return (
    <span className="min-w-0 md:text-right">
      {onSet ? (
        <button
          ref={button}
          type="button"
          onClick={() => setWriting(true)}
          aria-label={cue ? `Word ${where}: ${cue.word}. Change it` : `No word ${where} yet. Write it`}
          className={`group sung min-h-11 min-w-11 rounded text-left leading-[1.1] hover:bg-paper-2 md:text-right ${look} ${words ? '' : 'opacity-0 hover:opacity-100 focus:opacity-100'}`}
        >
          <span className={`${CUT} group-hover:line-clamp-none group-focus-visible:line-clamp-none`}>
            {words || '+ word'}
          </span>
        </button>
      ) : (
        <span className={`sung inline-flex min-h-11 items-center leading-[1.1] ${look}`}>
          <span className={`${CUT} hover:line-clamp-none`}>{words}</span>
        </span>
      )}
      {signal ? (
        <span className="block text-[0.8rem] leading-none text-gold md:-mt-3 md:text-right">
          ending signal
        </span>
      ) : null}
    </span>
  );
}

function WriteWord({
  word,
  where,
  onDone,
}: {
  word: string;
  where: string;
  onDone(word: string | null): void;
}) {
  const field = useRef<HTMLInputElement>(null);
  useEffect(() => field.current?.select(), []);
  useWhenLeft(() => onDone(field.current!.value.trim()));
  const submit = (event: FormEvent) => {
    event.preventDefault();
    onDone(field.current!.value.trim());
  };
  return (
    <form onSubmit={submit} className="flex min-w-0 flex-wrap justify-end gap-1">
      <input
        ref={field}
        defaultValue={word}
        maxLength={80}
        aria-label={`Word or sound that is heard ${where}`}
        className="sung min-h-11 w-full min-w-0 rounded border border-edge bg-paper px-2 text-xl md:text-right"
        onKeyDown={(event) => {
          if (event.key === 'Escape') onDone(null);
        }}
        onBlur={(event) => {
          if (!event.relatedTarget || !event.currentTarget.form?.contains(event.relatedTarget)) {
            onDone(event.currentTarget.value.trim());
          }
        }}
      />
      {word ? (
        <button
          type="button"
          onClick={() => onDone('')}
          className="min-h-11 px-2 text-sm underline underline-offset-4"
        >
          take it away
        </button>
      ) : null}
    </form>
  );
}
