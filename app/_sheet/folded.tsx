import { type ReactNode, useState } from 'react';

/** What opens under a line. It is made only once it is opened: a long song has many notes, and few are read. */
export function Folded({
  line,
  look,
  children,
}: {
  line: ReactNode;
  look: string;
  children: () => ReactNode;
}) {
  const [open, setOpen] = useState(false);
  return (
    <details onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary className={`ml-5 list-outside min-h-11 content-center ${look}`}>{line}</summary>
      {open ? children() : null}
    </details>
  );
}
