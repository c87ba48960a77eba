'use client';

import Link from 'next/link';
import { usePathname, useRouter } from 'next/navigation';
import { ask } from '../_ui/api.ts';
import { Button } from '../_ui/button.tsx';

const pages = [
  { href: '/', words: 'Couples' },
  { href: '/moves', words: 'Moves' },
  { href: '/passphrase', words: 'Passphrase' },
];

/** The head of the studio's pages. */
export function StudioHead({ name }: { name: string }) {
  const router = useRouter();
  const current = usePathname();
  const leave = async () => {
    await ask('/api/sign-out', { method: 'POST', json: {} });
    router.replace('/');
    router.refresh();
  };
  return (
    <header className="flex flex-wrap items-end justify-between gap-x-8 gap-y-2 border-b border-rule pb-2">
      <div>
        <p className="small-caps text-soft">Larkstep</p>
        <h1 className="mt-1 text-4xl leading-tight">{name}’s studio</h1>
      </div>
      <div className="-mx-2 flex flex-wrap items-center gap-x-1">
        <nav aria-label="Studio" className="flex">
          {pages.map(({ href, words }) => (
            <Link
              key={href}
              href={href}
              prefetch={false}
              aria-current={current === href ? 'page' : undefined}
              className="flex min-h-11 items-center border-b-2 border-transparent px-2 no-underline hover:border-edge aria-[current=page]:border-ink aria-[current=page]:font-semibold"
            >
              {words}
            </Link>
          ))}
        </nav>
        <Button look="quiet" className="px-2!" onClick={leave}>
          Sign out
        </Button>
      </div>
    </header>
  );
}
