import { defineConfig } from 'vite';

// The solver's wrapper looks for pronate.wasm beside itself. The page says where it is,
// in public/, so that the bundle does not take another copy.
const solverFromPublic = {
  name: 'solver-from-public',
  enforce: 'pre',
  transform(code, id) {
    if (!id.endsWith('/cmd/libpronate/js/pronate.js')) return null;
    const beside = "new URL('./pronate.wasm', import.meta.url)";
    if (!code.includes(beside)) throw new Error(`${id}: expected ${beside}`);
    return { code: code.replace(beside, 'undefined'), map: null };
  },
};

export default defineConfig({
  base: './', // relative addresses: the page can be served from any folder
  plugins: [solverFromPublic],
  server: { fs: { allow: ['../..'] } }, // the wrapper is outside this folder
  worker: { format: 'es' },
  build: {
    target: 'es2022',
    chunkSizeWarningLimit: 900, // three is most of it
    rolldownOptions: { external: ['node:fs/promises', 'node:crypto'] }, // the wrapper's, under node only
  },
});
