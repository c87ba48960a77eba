import { config } from 'zod/mini';

// Zod would compile its checks with eval, after a probe; the pages' policy forbids both, and a violation would be reported.
config({ jitless: true });

export * as z from './zodParts.ts';
