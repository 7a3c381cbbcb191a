import { defineConfig } from 'vitest/config';

/** Milliseconds. On a busy machine a test takes many times its own time: this only ends one that never would. */
const PATIENCE = 600_000;

export default defineConfig({
  test: { globalSetup: ['tests/build-first.ts'], testTimeout: PATIENCE, hookTimeout: PATIENCE },
});
