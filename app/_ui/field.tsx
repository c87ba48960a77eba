import { type ComponentProps, type ReactNode, useId } from 'react';

const box =
  'min-h-11 w-full rounded border border-edge bg-paper px-3 py-1.5 text-base text-ink disabled:bg-paper-2 disabled:text-soft';

/**
 * The words over a field. They have no base line of their own, so that in a row with `items-baseline` fields and buttons stand on
 * the line of what is in the boxes, however many lines are over and under each.
 */
export const labelLook = 'mb-1 block text-sm text-soft contain-layout';

interface Around {
  label: string;
  hint?: string;
}

function Labelled({ id, label, hint, children }: Around & { id: string; children: ReactNode }) {
  return (
    <div className="min-w-0">
      <label htmlFor={id} className={labelLook}>
        {label}
      </label>
      {children}
      {hint ? (
        <p id={`${id}-hint`} className="mt-1 text-sm text-soft">
          {hint}
        </p>
      ) : null}
    </div>
  );
}

export function TextField({ label, hint, className = '', ...rest }: Around & ComponentProps<'input'>) {
  const id = useId();
  return (
    <Labelled id={id} label={label} hint={hint}>
      <input
        id={id}
        className={`${box} ${className}`}
        aria-describedby={hint ? `${id}-hint` : undefined}
        {...rest}
      />
    </Labelled>
  );
}

export function TextArea({ label, hint, className = '', ...rest }: Around & ComponentProps<'textarea'>) {
  const id = useId();
  return (
    <Labelled id={id} label={label} hint={hint}>
      <textarea
        id={id}
        rows={3}
        className={`${box} ${className}`}
        aria-describedby={hint ? `${id}-hint` : undefined}
        {...rest}
      />
    </Labelled>
  );
}

export function Choice({
  label,
  hint,
  children,
  className = '',
  ...rest
}: Around & ComponentProps<'select'>) {
  const id = useId();
  return (
    <Labelled id={id} label={label} hint={hint}>
      <select
        id={id}
        className={`${box} ${className}`}
        aria-describedby={hint ? `${id}-hint` : undefined}
        {...rest}
      >
        {children}
      </select>
    </Labelled>
  );
}
