import { type ReactNode, useState } from 'react';

interface Props {
  title: string;
  /** Open as it comes; from then on it is the person's. */
  open?: boolean;
  children: ReactNode;
}

/** What is seldom needed, behind one line. */
export function Drawer({ title, open = false, children }: Props) {
  const [first] = useState(open);
  return (
    <details open={first}>
      <summary className="inline-flex min-h-11 items-center gap-1.5 font-semibold underline underline-offset-4">
        {title}
      </summary>
      <section aria-label={title} className="unfolds border-l-2 border-rule pt-1 pb-3 pl-4">
        {children}
      </section>
    </details>
  );
}
