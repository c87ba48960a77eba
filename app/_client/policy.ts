import { laterPart } from './laterParts.ts';

/** What decides about a change, and puts into words what is asked. */
export type Policy = typeof import('./policyParts.ts');

let here: Policy | null = null;

/** The policy once it is loaded: it comes after what is first seen, and nothing is changed before it is there. */
export const policyHere = (): Policy | null => here;

export const loadPolicy = laterPart(async (): Promise<Policy> => {
  here ??= await import('./policyParts.ts');
  return here;
});
