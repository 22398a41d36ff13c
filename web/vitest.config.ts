import { defineConfig } from 'vitest/config';

// Its own file: the Solid plugin of the build would ask for a simulated browser, and what is tested here needs none.
export default defineConfig({ test: { environment: 'node', include: ['src/**/*.test.ts'] } });
