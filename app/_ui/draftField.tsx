'use client';

import { type ComponentProps, useState } from 'react';
import { TextArea, TextField } from './field.tsx';
import { useWhenLeft } from './whenLeft.ts';

type Common = { value: string; onKeep: (value: string) => void };

/**
 * A field of a shared document: what is typed stays here until the field is left, then it is kept as one change. What others
 * write shows at once, except while this person types.
 */
export function DraftField({
  value,
  onKeep,
  ...rest
}: Common & Omit<ComponentProps<typeof TextField>, 'value' | 'onChange' | 'onBlur'>) {
  const draft = useDraft({ value, onKeep });
  return (
    <TextField
      {...rest}
      {...draft}
      onKeyDown={(event) => {
        if (event.key === 'Enter') event.currentTarget.blur();
      }}
    />
  );
}

export function DraftArea({
  value,
  onKeep,
  ...rest
}: Common & Omit<ComponentProps<typeof TextArea>, 'value' | 'onChange' | 'onBlur'>) {
  return <TextArea {...rest} {...useDraft({ value, onKeep })} />;
}

function useDraft({ value, onKeep }: Common) {
  const [draft, setDraft] = useState<string | null>(null);
  const keep = () => {
    if (draft !== null && draft !== value) onKeep(draft);
    setDraft(null);
  };
  useWhenLeft(keep);
  return {
    value: draft ?? value,
    onChange: (event: { target: { value: string } }) => setDraft(event.target.value),
    onBlur: keep,
  };
}
