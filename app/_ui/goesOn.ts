import type { UIEvent } from 'react';

/** For a line that scrolls inside of an element with `goes-on`: it fades on the left, too, while some of it lies there. */
export function goesOn({ currentTarget: line }: UIEvent<HTMLElement>): void {
  line.parentElement?.toggleAttribute('data-moved', line.scrollLeft > 0);
}
