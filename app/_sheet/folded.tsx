import { type ReactNode, useEffect, useState } from 'react';

/** What opens under a line. It is made only once it is opened: a long song has many notes, and few are read. */
export function Folded({
  line,
  look,
  led = false,
  children,
}: {
  line: ReactNode;
  look: string;
  /** Somebody is led to what it holds. */
  led?: boolean;
  children: () => ReactNode;
}) {
  const [opened, setOpened] = useState(false);
  // It stays open once they are there.
  useEffect(() => {
    if (led) setOpened(true);
  }, [led]);
  const open = opened || led;
  return (
    <details open={open} onToggle={(event) => setOpened(event.currentTarget.open)}>
      <summary className={`ml-5 list-outside min-h-11 content-center ${look}`}>{line}</summary>
      {open ? <div className="unfolds">{children()}</div> : null}
    </details>
  );
}
