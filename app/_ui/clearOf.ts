/** Px of air between what has the focus and a strip. */
const AIR = 12;

/** For a strip that stays at an edge of the page: what gets the focus is scrolled clear of it, however tall it is just now. */
const clearOf = (side: 'scrollPaddingTop' | 'scrollPaddingBottom') => (strip: HTMLElement | null) => {
  if (!strip) return;
  const { style } = document.documentElement;
  const observer = new ResizeObserver(() => {
    style[side] = `${Math.ceil(strip.getBoundingClientRect().height) + AIR}px`;
  });
  observer.observe(strip);
  return () => {
    observer.disconnect();
    style[side] = '';
  };
};

export const clearOfTop = clearOf('scrollPaddingTop');
export const clearOfFoot = clearOf('scrollPaddingBottom');
