'use client';

import { drillId, homeworkStretch } from '@/lib/core/handover/homework.ts';
import { useBoard } from '../_client/room.tsx';
import { useChanging } from '../_ui/changing.ts';
import { Choice } from '../_ui/field.tsx';
import { homework } from './words.ts';

/** Where a line of homework is danced: what its words name, or the section or phrase that somebody chooses. */
export function DrillChoice({ words }: { words: string }) {
  const { board, score } = useBoard('board', 'score');
  const { change, may } = useChanging('lessons');
  if (!score || score.sections.length === 0 || !may) return null;
  const drills = board.lessons?.drills ?? [];
  const id = drillId(words);
  const chosen = drills.find((drill) => drill.id === id);
  const named = homeworkStretch(words, { plan: board.plan, drills: [] }, score);
  const set = (value: string) => {
    const [section = '', phrase = ''] = value.split(' ');
    const fields = value === '' ? null : { section, phrase: phrase === '' ? null : Number(phrase) };
    change({ collection: 'drills', id, fields });
  };
  return (
    <Choice
      label={homework.danced}
      value={chosen ? `${chosen.section} ${chosen.phrase ?? ''}`.trim() : ''}
      onChange={(event) => set(event.target.value)}
    >
      <option value="">
        {homework.byWords}: {named ? homework.practise(named) : homework.nothing}
      </option>
      {score.sections.map((section) => {
        const phrases = score.phrases.filter((phrase) => phrase.section === section.index);
        return [
          <option key={section.id} value={section.id}>
            {section.name}
          </option>,
          ...(phrases.length > 1
            ? phrases.map((phrase, i) => (
                <option key={phrase.index} value={`${section.id} ${i}`}>
                  {section.name}, phrase {i + 1}
                </option>
              ))
            : []),
        ];
      })}
    </Choice>
  );
}
