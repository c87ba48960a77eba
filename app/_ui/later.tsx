'use client';

import dynamic from 'next/dynamic';
import type { ComponentType } from 'react';
import { laterPart } from '../_client/laterParts.ts';

const Nothing = () => null;

/**
 * A part that comes after the page, and that the page can do without: where it cannot be fetched, for want of a network, nothing
 * stands in its place until the page is loaded again.
 */
export function later<P extends object>(load: () => Promise<ComponentType<P>>): ComponentType<P> {
  laterPart(load);
  return dynamic(() => load().catch((): ComponentType<P> => Nothing), { ssr: false });
}
