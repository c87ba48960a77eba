/** One piece for the browser to fetch. */
export { judge } from '@/lib/core/agreed/policy.ts';
export { questionOf } from '@/lib/core/agreed/question.ts';
