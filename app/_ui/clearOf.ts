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
  });
  observer.observe(strip);
  return () => {
    observer.disconnect();
    style[side] = '';
    if (foot) foot.paddingBottom = '';
  };
};

export const clearOfTop = clearOf('scrollPaddingTop');
export const clearOfFoot = clearOf('scrollPaddingBottom');
