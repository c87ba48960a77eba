import { config } from 'zod/v4/core';

// Next runs this before any page. The page's policy forbids eval, which zod would try for speed, and which would then be
// reported as a violation on each page.
config({ jitless: true });
