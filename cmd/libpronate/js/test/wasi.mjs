// What the wrapper gives a Go program of WASI.
import assert from 'node:assert/strict';
import { webcrypto } from 'node:crypto';
import test from 'node:test';
import { Exit, imports } from '../wasi.js';
import { bytes } from './setup.mjs';

const memory = { of: new WebAssembly.Memory({ initial: 4 }) };
const calls = imports(memory, webcrypto).wasi_snapshot_preview1;
const view = () => new DataView(memory.of.buffer);

test('everything the module asks for is there', async () => {
  const asked = WebAssembly.Module.imports(await WebAssembly.compile(bytes));
  assert.ok(asked.length > 0);
  for (const { module, name } of asked) {
    assert.equal(module, 'wasi_snapshot_preview1');
    assert.equal(typeof calls[name], 'function', name);
  }
});

test('random numbers fill all of a long array, and no more', () => {
  const length = 3 * 65536 + 100;
  assert.equal(calls.random_get(8, length), 0);
  const got = new Uint8Array(memory.of.buffer);
  for (let at = 8; at < length; at += 64) assert.ok(got.subarray(at, at + 64).some((x) => x !== 0), `${at}`);
  assert.ok(got.subarray(0, 8).every((x) => x === 0));
  assert.ok(got.subarray(8 + length).every((x) => x === 0));
});

test('lines come out whole', () => {
  const said = [];
  const { error } = console;
  console.error = (line) => said.push(line);
  try {
    const write = (file, ...texts) => {
      let at = 1000;
      texts.forEach((text, i) => {
        const data = Buffer.from(text);
        new Uint8Array(memory.of.buffer).set(data, at);
        view().setUint32(8 * i, at, true);
        view().setUint32(8 * i + 4, data.length, true);
        at += data.length;
      });
      return [calls.fd_write(file, 0, texts.length, 500), view().getUint32(500, true)];
    };
    assert.deepEqual(write(2, 'one ', 'line\ntw'), [0, 11]);
    assert.deepEqual(said, ['one line']);
    assert.deepEqual(write(2, 'o\n\n'), [0, 3]);
    assert.deepEqual(said, ['one line', 'two', '']);
    assert.equal(write(3, 'no')[0], 8);
  } finally {
    console.error = error;
  }
});

test('clocks go, and a wait is over at once', () => {
  const before = BigInt(Date.now()) * 1000000n;
  assert.equal(calls.clock_time_get(0, 0n, 16), 0);
  assert.ok(view().getBigUint64(16, true) >= before);
  calls.clock_time_get(1, 0n, 16);
  const first = view().getBigUint64(16, true);
  calls.clock_time_get(1, 0n, 16);
  assert.ok(view().getBigUint64(16, true) >= first);
  new Uint8Array(memory.of.buffer).fill(0, 0, 4096);
  view().setBigUint64(0, 77n, true); // a clock's subscription
  view().setUint8(48 + 8, 1); // and a file's
  assert.equal(calls.poll_oneoff(0, 1024, 2, 2048), 0);
  assert.equal(view().getUint32(2048, true), 1);
  assert.equal(view().getBigUint64(1024, true), 77n);
});

test('an exit is thrown', () => assert.throws(() => calls.proc_exit(2), Exit));
