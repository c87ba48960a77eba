import type { judge } from '@/lib/core/agreed/policy.ts';
import type { questionOf } from '@/lib/core/agreed/question.ts';

/** What decides about a change, and puts into words what is asked. */
export interface Policy {
  judge: typeof judge;
  questionOf: typeof questionOf;
}

let here: Policy | null = null;

/** The policy once it is loaded: it comes after what is first seen, and nothing is changed before it is there. */
export const policyHere = (): Policy | null => here;

export async function loadPolicy(): Promise<Policy> {
  if (here === null) {
    const { judge, questionOf } = await import('./policyParts.ts');
    here = { judge, questionOf };
  }
  return here;
}
