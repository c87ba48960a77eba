/** Px of air between what has the focus and a strip. */
const AIR = 12;

/**
 * For a strip that stays at an edge of the page: what gets the focus is scrolled clear of it, and at its foot the page ends above
 * it, however tall it is just now.
 */
const clearOf = (side: 'scrollPaddingTop' | 'scrollPaddingBottom') => (strip: HTMLElement | null) => {
  if (!strip) return;
  const { style } = document.documentElement;
  const foot = side === 'scrollPaddingBottom' ? document.body.style : null;
  const observer = new ResizeObserver(() => {
    const height = Math.ceil(strip.getBoundingClientRect().height);
    style[side] = `${height + AIR}px`;
    if (foot) foot.paddingBottom = `${height}px`;
    if (foot) uncover(strip);
  });
  observer.observe(strip);
  return () => {
    observer.disconnect();
    style[side] = '';
    if (foot) foot.paddingBottom = '';
  };
};

/** What has the focus already, and is small enough to be seen whole, comes out from under a strip that has grown over it. */
function uncover(strip: HTMLElement): void {
  const focused = document.activeElement;
  if (!focused || focused === document.body || strip.contains(focused)) return;
  const { top, bottom } = focused.getBoundingClientRect();
  const edge = strip.getBoundingClientRect().top;
  const hidden = bottom + AIR - edge;
  if (hidden > 0 && top < window.innerHeight && bottom - top < edge) window.scrollBy(0, hidden);
}

export const clearOfTop = clearOf('scrollPaddingTop');
export const clearOfFoot = clearOf('scrollPaddingBottom');
