/** Px of air between what has the focus and a strip. */
const AIR = 12;

type Side = 'top' | 'foot';
/** What stays at an edge of the page just now. */
const strips: Record<Side, Set<HTMLElement>> = { top: new Set(), foot: new Set() };

/** A strip that has its place in the page's flow, because there is room beside it, covers nothing. */
const stays = (strip: HTMLElement): boolean => ['fixed', 'sticky'].includes(getComputedStyle(strip).position);

const heightOf = (strip: HTMLElement): number => Math.ceil(strip.getBoundingClientRect().height);

/** What gets the focus is scrolled clear of the strips, and the page ends above those at its foot, however tall they are just now. */
function settle(side: Side): void {
  const staying = [...strips[side]].filter(stays);
  const height = staying.reduce((sum, strip) => sum + heightOf(strip), 0);
  const { style } = document.documentElement;
  const padding = staying.length > 0 ? `${height + AIR}px` : '';
  if (side === 'top') style.scrollPaddingTop = padding;
  else {
    style.scrollPaddingBottom = padding;
    document.body.style.paddingBottom = height > 0 ? `${height}px` : '';
    uncover(staying);
  }
}

const clearOf = (side: Side, isFoot: boolean) => (strip: HTMLElement | null) => {
  if (!strip) return;
  const { style } = document.documentElement;
  const measure = () => {
    if (isFoot) style.setProperty('--foot', `${heightOf(strip)}px`);
    settle(side);
  };
  strips[side].add(strip);
  const observer = new ResizeObserver(measure);
  observer.observe(strip);
  window.addEventListener('resize', measure);
  return () => {
    observer.disconnect();
    window.removeEventListener('resize', measure);
    strips[side].delete(strip);
    if (isFoot) style.removeProperty('--foot');
    settle(side);
  };
};

/** What has the focus already, and is small enough to be seen whole, comes out from under a strip that has grown over it. */
function uncover(staying: readonly HTMLElement[]): void {
  const focused = document.activeElement;
  if (!focused || focused === document.body || staying.some((strip) => strip.contains(focused))) return;
  const { top, bottom } = focused.getBoundingClientRect();
  const edge = Math.min(...staying.map((strip) => strip.getBoundingClientRect().top));
  const hidden = bottom + AIR - edge;
  if (hidden > 0 && top < window.innerHeight && bottom - top < edge) window.scrollBy(0, hidden);
}

export const clearOfTop = clearOf('top', false);
/** Of the strip that lies on the window's lower edge; `--foot` tells its height to what lies on it. */
export const clearOfFoot = clearOf('foot', true);
/** Of what lies on that strip, where it does. */
export const clearOfDock = clearOf('foot', false);
