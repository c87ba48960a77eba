import { defineConfig } from 'vitest/config';

export default defineConfig({
  css: { postcss: {} },
  test: { include: ['tests/**/*.test.ts'], exclude: ['tests/browser/**'], testTimeout: 30_000 },
});
