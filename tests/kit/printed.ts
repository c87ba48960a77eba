import { isValidElement, type ReactNode } from 'react';

/**
 * What a sheet prints, a line each, without laying it out: every element is made as React makes it, and the renderer's own texts are
 * read. For many boards; that a PDF holds what its sheet says is held on a few.
 */
export function printed(node: ReactNode): string[] {
  if (Array.isArray(node)) return node.flatMap(printed);
  if (typeof node === 'string' || typeof node === 'number') return [String(node)];
  if (!isValidElement<{ children?: ReactNode }>(node)) return [];
  const { type, props } = node;
  if (typeof type === 'function') return printed((type as (props: object) => ReactNode)(props));
  const inside = printed(props.children);
  return type === 'TEXT' ? [inside.join('')] : inside;
}
