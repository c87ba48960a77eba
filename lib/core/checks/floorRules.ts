import type { Finding } from './finding.ts';

/** Rules that look at the floor: what they say stands beside its plan, too. */
export const FLOOR_RULES = [
  'leaves-floor',
  'too-near',
  'pose-turned',
  'way-longer',
  'room',
  'surface',
] as const;

export const ofFloor = (findings: readonly Finding[]): Finding[] =>
  findings.filter(({ rule }) => (FLOOR_RULES as readonly string[]).includes(rule));
