import Link from 'next/link';
import { PAGE } from '@/lib/protocol/listPage.ts';
import { buttonClass } from '../_ui/button.tsx';
import { listAddress } from './listPage.ts';

/** Leads from page to page where the list has more than one. */
export function ListPages({ from, total, named }: { from: number; total: number; named: string }) {
  if (total <= PAGE) return null;
  const page = from / PAGE + 1;
  const last = Math.ceil(total / PAGE);
  return (
    <nav aria-label="Pages of the list" className="mt-8 flex flex-wrap items-center gap-3">
      {page > 1 ? (
        <Link
          prefetch={false}
          href={listAddress(page - 1, named)}
          rel="prev"
          className={buttonClass('plain')}
        >
          Page {page - 1}
        </Link>
      ) : null}
      <p aria-current="page" className="text-soft">
        Page {page} of {last}: couples {from + 1} to {Math.min(from + PAGE, total)} of {total}
      </p>
      {page < last ? (
        <Link
          prefetch={false}
          href={listAddress(page + 1, named)}
          rel="next"
          className={buttonClass('plain')}
        >
          Page {page + 1}
        </Link>
      ) : null}
    </nav>
  );
}
