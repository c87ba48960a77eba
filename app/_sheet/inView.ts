/** From the top of the window, px. */
export interface Extent {
  top: number;
  bottom: number;
}

/**
 * Px to scroll down, so that the row that is danced and the one after it are seen. 0 where both are, and where whoever reads has
 * gone elsewhere: the row before was not in view.
 */
export function scrollFor(view: Extent, row: Extent, before: Extent | null, after: Extent | null): number {
  if (before && (before.bottom <= view.top || before.top >= view.bottom)) return 0;
  const isSeen = row.top >= view.top && (after ?? row).bottom <= view.bottom;
  return isSeen ? 0 : row.top - view.top;
}

/** The part of the window that is free of the strips at its edges. */
export function freeView(): Extent {
  const { scrollPaddingTop, scrollPaddingBottom } = document.documentElement.style;
  return {
    top: Number.parseFloat(scrollPaddingTop) || 0,
    bottom: window.innerHeight - (Number.parseFloat(scrollPaddingBottom) || 0),
  };
}
