import { z } from 'zod';

// Zod would compile its checks with eval, after a probe; the pages' policy forbids both, and a violation would be reported.
z.config({ jitless: true });

export { z };
