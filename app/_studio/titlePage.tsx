import type { ReactNode } from 'react';

/** The paper's outer page, before any board is open. */
export function TitlePage({ title, under, children }: { title: string; under: string; children: ReactNode }) {
  return (
    <main className="sheet-page max-w-3xl!">
      <p className="small-caps text-soft">Larkstep</p>
      <h1 className="mt-2 text-4xl leading-tight md:text-5xl">{title}</h1>
      <p className="sung mt-2 text-xl text-soft">{under}</p>
      <div className="mt-8">{children}</div>
    </main>
  );
}
