import { type RefObject, useLayoutEffect, useRef, useState } from 'react';
import { flushSync } from 'react-dom';

/** Px that a staff has on an A4 or Letter page with its margins, beside the words. */
const PRINTED = 480;

/** Columns of a row: its time and word, its staff, its notes. */
export const COLUMNS =
  'md:grid md:grid-cols-[10.5rem_minmax(0,1fr)] md:gap-x-4 xl:grid-cols-[10.5rem_minmax(0,1fr)_19rem] xl:gap-x-6';

/** Looks of an empty row in which a staff is measured, and of that staff. */
export const MEASURED = { row: `${COLUMNS} md:pl-4`, staff: 'md:col-start-2' };

/** Width of the staff in whole px, as it changes, and an element that has it; on paper that of the page. */
export function useWidth(): [RefObject<HTMLDivElement | null>, number] {
  const ref = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(widthAhead);
  useLayoutEffect(() => {
    const element = ref.current;
    if (!element) return;
    const measure = () => setWidth(Math.floor(element.clientWidth));
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    // At once: the page is taken for the paper as soon as this has been told.
    const print = () => flushSync(() => setWidth(PRINTED));
    window.addEventListener('beforeprint', print);
    window.addEventListener('afterprint', measure);
    return () => {
      observer.disconnect();
      window.removeEventListener('beforeprint', print);
      window.removeEventListener('afterprint', measure);
    };
  }, []);
  return [ref, width];
}

/** The width that a staff will have, from an empty page of the same looks: so the sheet is drawn once, not also to be measured. */
function widthAhead(): number {
  const parts = ['board-page', MEASURED.row, MEASURED.staff].map((looks) => {
    const part = document.createElement('div');
    part.className = looks;
    return part;
  });
  const [page, row, staff] = parts as [HTMLDivElement, HTMLDivElement, HTMLDivElement];
  row.append(staff);
  page.append(row);
  document.body.append(page);
  const width = Math.floor(staff.clientWidth);
  page.remove();
  return width;
}
