import Link from 'next/link';
import { usePathname } from 'next/navigation';
import { useLayoutEffect, useRef } from 'react';
import { useBoard } from '../_client/room.tsx';
import { QuestionMark } from '../_home/questionMark.tsx';
import { goesOn } from './goesOn.ts';
import { boardAddress, screensOf, screenWords } from './roles.ts';
import { frame } from './words.ts';

/** The pages of a board in one line, which scrolls where it is too long; the present one is always in view. */
export function BoardTabs() {
  const { me } = useBoard('me');
  const current = usePathname().split('/').at(-1);
  const line = useRef<HTMLUListElement>(null);
  useLayoutEffect(() => {
    const list = line.current;
    const tab = list?.querySelector<HTMLElement>(`[data-screen="${current}"]`);
    if (!list || !tab) return;
    // Told at first, too, once the page is laid out: to ask now would have it laid out twice.
    const observer = new ResizeObserver(() => {
      list.scrollLeft = tab.offsetLeft - (list.clientWidth - tab.offsetWidth) / 2;
    });
    observer.observe(list);
    return () => observer.disconnect();
  }, [current]);
  return (
    <nav aria-label={frame.pages} className="no-print relative -mx-2 max-xl:goes-on">
      <ul
        ref={line}
        onScroll={goesOn}
        className="relative flex overflow-x-auto pr-8 xl:pr-0 [scrollbar-width:none]"
      >
        {screensOf[me.role].map((screen) => (
          <li key={screen} data-screen={screen}>
            <Link
              href={boardAddress(me.board, screen, me.role)}
              prefetch={false}
              aria-current={current === screen ? 'page' : undefined}
              className="flex min-h-11 items-center border-b-2 border-transparent px-2 xl:px-1.5 2xl:px-2.5 whitespace-nowrap no-underline -outline-offset-3 hover:border-edge aria-[current=page]:border-ink aria-[current=page]:font-semibold forced-colors:border-[Canvas] forced-colors:aria-[current=page]:border-[CanvasText]"
            >
              {screenWords[screen]}
              <QuestionMark screen={screen} />
            </Link>
          </li>
        ))}
      </ul>
    </nav>
  );
}
