// Builds the page into a folder and serves it there.
import { build, preview } from 'vite';

const root = new URL('..', import.meta.url).pathname;

export async function serve(outDir) {
  await build({ root, logLevel: 'warn', build: { outDir, emptyOutDir: true } });
  const server = await preview({ root, logLevel: 'warn', build: { outDir }, preview: { host: '127.0.0.1', port: 0 } });
  return { url: `http://127.0.0.1:${server.httpServer.address().port}/`, close: () => new Promise((done) => server.httpServer.close(done)) };
}
