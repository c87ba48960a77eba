'use client';

import type { Me } from '../_client/boardClient.ts';

export function DeskStrip(_: { me: Me }) {
  return null;
}
