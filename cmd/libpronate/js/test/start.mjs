// Every way to start a module.
import assert from 'node:assert/strict';
import { createServer } from 'node:http';
import { once } from 'node:events';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import test from 'node:test';
import { pathToFileURL } from 'node:url';
import { WASI } from 'node:wasi';
import { attach, load, PronateError, status } from '../pronate.js';
import { bytes, isSame, limbs, read } from './setup.mjs';

// solves checks that a module is alive.
function solves(pronate) {
  const { name, spec, n } = limbs[0];
  const batch = pronate.limb(spec).batch(n, Float64Array);
  batch.joints.set(read('joints', 'f64'));
  batch.tips.set(read('tips', 'f64'));
  batch.solve();
  assert.ok(isSame(batch.segments, read(name, 'f64')));
  assert.match(pronate.version, /^\d+\.\d+\.\d+$/);
}

test('bytes', async () => solves(await load(bytes)));

test('a module, twice', async () => {
  const module = await WebAssembly.compile(bytes);
  const [a, b] = [await load(module), await load(module)];
  solves(a);
  solves(b);
});

test('a file', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'pronate'));
  try {
    const file = join(folder, 'pronate.wasm');
    writeFileSync(file, bytes);
    solves(await load(pathToFileURL(file)));
    solves(await load(pathToFileURL(file).href));
  } finally {
    rmSync(folder, { recursive: true });
  }
});

test('a server', async () => {
  const server = createServer((request, answer) => {
    answer.statusCode = request.url === '/pronate.wasm' ? 200 : 404;
    answer.end(answer.statusCode === 200 ? bytes : 'no');
  }).listen(0, '127.0.0.1');
  await once(server, 'listening');
  const base = `http://127.0.0.1:${server.address().port}`;
  try {
    solves(await load(new URL(`${base}/pronate.wasm`)));
    solves(await load(fetch(`${base}/pronate.wasm`)));
    await assert.rejects(load(`${base}/other.wasm`), /other\.wasm: 404/);
  } finally {
    server.closeAllConnections();
    server.close();
  }
});

test("node's own WASI", async () => {
  const wasi = new WASI({ version: 'preview1' });
  const { instance } = await WebAssembly.instantiate(bytes, { wasi_snapshot_preview1: wasi.wasiImport });
  wasi.initialize(instance);
  solves(attach(instance));
});

test('a module that has stopped says so', async () => {
  let calls = 0;
  const pronate_version = () => {
    if (++calls === 1) throw new WebAssembly.RuntimeError('unreachable');
    return 0;
  };
  const pronate = attach({ exports: { pronate_version } });
  for (let i = 0; i < 2; i++) {
    assert.throws(
      () => pronate.version,
      (e) => e instanceof PronateError && e.status === status.fault && /stopped: unreachable/.test(e.message),
    );
  }
  assert.equal(calls, 1);
});
