'use client';

import { useState } from 'react';
import { newId } from '../_client/newId.ts';
import { useBoard, useRoom } from '../_client/room.tsx';
import { useMyName } from '../_notes/myName.ts';
import { nowInstant } from '../_studio/dates.ts';
import { Asking } from '../_ui/asking.tsx';
import { Button } from '../_ui/button.tsx';
import { Drawer } from '../_ui/drawer.tsx';
import { TextField } from '../_ui/field.tsx';
import { Notice } from '../_ui/notice.tsx';
import { page } from './words.ts';

/** The instructor settles song and edit; instructor or couple may lift that. */
export function Settling() {
  const { me, board } = useBoard('me', 'board');
  const room = useRoom();
  const [name] = useMyName();
  const [word, setWord] = useState('');
  const [asked, setAsked] = useState(false);
  const [problem, setProblem] = useState<string | null>(null);
  const { settled } = board.plan;
  const write = (value: typeof settled) => {
    const done = room.change('plan', [{ register: 'settled', value }]);
    setProblem(done.ok ? null : done.problem.sentence);
  };
  const lift = () => {
    setAsked(false);
    write(null);
    if (word.trim() !== '') {
      const id = newId();
      const fields = {
        ...{ writer: me.membership, name, role: me.role, at: nowInstant() },
        about: 'edit' as const,
      };
      const text = { type: 'text', text: `Opened song and edit again: ${word.trim()}` };
      const words = { type: 'doc', content: [{ type: 'paragraph', content: [text] }] };
      const done = room.write('remarks', [{ collection: 'remarks', id, fields }], id, { text: words });
      if (!done.ok) setProblem(done.problem.sentence);
    }
    setWord('');
  };
  if (settled === null) {
    if (me.role !== 'instructor') return null;
    return (
      <Drawer title={page.settle}>
        <div className="flex max-w-xl flex-wrap items-baseline gap-3">
          <div className="min-w-52 flex-1">
            <TextField
              label="With a word to the couple"
              hint="Nobody can then change the song or its edit by accident."
              value={word}
              maxLength={300}
              onChange={({ target }) => setWord(target.value)}
            />
          </div>
          <Button
            className="mb-7"
            onClick={() => {
              write({ by: name, at: nowInstant(), word: word.trim() });
              setWord('');
            }}
          >
            Settle
          </Button>
        </div>
        {problem ? <Notice kind="wrong">{problem}</Notice> : null}
      </Drawer>
    );
  }
  return (
    <section aria-labelledby="settling" className="mt-3 space-y-2">
      <h3 id="settling" className="text-xl">
        Song and edit are settled
      </h3>
      <Notice kind="settled">
        By {settled.by}
        {settled.word ? <span className="sung">: “{settled.word}”</span> : null}
      </Notice>
      {room.mayWrite('plan') ? <Button onClick={() => setAsked(true)}>Lift it</Button> : null}
      {problem ? <Notice kind="wrong">{problem}</Notice> : null}
      {asked ? (
        <Asking
          title="Open song and edit again?"
          no="Leave them settled"
          yes="Open them"
          onNo={() => setAsked(false)}
          onYes={lift}
        >
          <p>What was practised so far goes with the edit as it is. You can undo this.</p>
          <TextField
            label="A word to the others, kept as a remark"
            value={word}
            maxLength={300}
            onChange={({ target }) => setWord(target.value)}
          />
        </Asking>
      ) : null}
    </section>
  );
}
