import { defineConfig } from 'vitest/config';

export default defineConfig({ test: { globalSetup: ['tests/build-first.ts'], testTimeout: 60_000 } });
