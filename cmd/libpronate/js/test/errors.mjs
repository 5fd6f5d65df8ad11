// What is wrong is said, and stops nothing.
import assert from 'node:assert/strict';
import test from 'node:test';
import { WASI } from 'node:wasi';
import { PronateError, status } from '../pronate.js';
import { bytes, isSame, limbs, read, start } from './setup.mjs';

const pronate = await start();

const fails = (what, code, message) =>
  assert.throws(what, (e) => {
    assert.ok(e instanceof PronateError, `${e}`);
    assert.equal(e.status, code);
    assert.match(e.message, message);
    assert.ok(!e.message.includes('\n'));
    return true;
  });

test('specifications', () => {
  for (const [specification, message] of [
    [{ segments: 99 }, /segments is 99/],
    [{ axes: [0, 1, 0] }, /unknown key "axes"/],
    [{ axis: [0, NaN, 0] }, /NaN at 1/],
    [{ axis: [0, 0, 0] }, /axis/],
    [{ shares: new Float32Array([0, 2]) }, /shares\[1\] is 2/],
    [{ range: 'hip' }, /down/],
    [{ range: 'knee' }, /expected "none", "hip", "shoulder", "wrist" or limits \{"flexion_deg"/],
    [{ field: 'least_roll' }, /field is least_roll and range none, expected range hip, shoulder, wrist or limits/],
    [null, /null/],
    [[], /JSON object/],
  ]) {
    fails(() => pronate.limb(specification), status.badSpec, message);
  }
});

test('what has been freed', () => {
  const limb = pronate.limb();
  const batch = limb.batch(1);
  const other = pronate.limb().batch(1);
  limb.free();
  limb.free(); // fine
  for (const use of [() => batch.solve(), () => limb.batch(1), () => limb.planes(1), () => limb.info(), () => limb.fromRest([0, 0, 0, 1], [0, 0, 0, 1])]) {
    fails(use, status.badLimb, /^the limb has been freed$/);
  }
  batch.free();
  batch.free(); // fine
  fails(() => batch.joints, status.badArgument, /freed/);
  fails(() => batch.solve(), status.badArgument, /freed/);
  other.joints.set([0, 0, 0, 1]);
  assert.deepEqual(other.solve(), { undefined: 0, notFinite: 0 });
});

test('counts', () => {
  const limb = pronate.limb();
  const batch = limb.batch(4);
  for (const n of [-1, 5, 1.5, NaN, 2 ** 32, '1']) fails(() => batch.solve(n), status.badArgument, /expected a whole number/);
  for (const capacity of [-1, 0.5, NaN, undefined]) fails(() => limb.batch(capacity), status.badArgument, /capacity/);
  fails(() => limb.batch(2 ** 30), status.badArgument, /bytes asked for/);
  fails(() => limb.batch(2 ** 27), status.badArgument, /bytes asked for/);
  fails(() => limb.batch(2 ** 25, Float64Array), status.badArgument, /bytes asked for/);
  fails(() => limb.batch(4, Int32Array), status.badArgument, /Float32Array/);
  fails(() => pronate.aim([0, 0, 0], 4), status.badArgument, /axis/);
  fails(() => pronate.aim([0, NaN, 0], 4), status.badArgument, /axis/);
  fails(() => pronate.aim([0, 1], 4), status.badArgument, /^axis has 2 numbers, expected \[x, y, z\]$/);
  fails(() => pronate.aim(undefined, 4), status.badArgument, /^axis is undefined, expected \[x, y, z\]$/);
  fails(() => limb.fromRest([0, 0, 1], [0, 0, 0, 1]), status.badArgument, /^anchor has 3 numbers, expected \[x, y, z, w\]$/);
  fails(() => limb.fromRest([0, 0, 0, 1]), status.badArgument, /^joint is undefined/);
  fails(() => pronate.limb({ twist: 'tip' }).fromRest([0, 0, 0, 1], [0, 0, 0, 1]), status.badArgument, /^tip is null/);
  assert.deepEqual(limb.batch(0).solve(), { undefined: 0, notFinite: 0 });
  assert.deepEqual(limb.planes(0).solve(), { undefined: 0, notFinite: 0 });
});

// The module by itself, as one would call it without the wrapper.
async function bare() {
  const wasi = new WASI({ version: 'preview1' });
  const { instance } = await WebAssembly.instantiate(bytes, { wasi_snapshot_preview1: wasi.wasiImport });
  wasi.initialize(instance);
  return instance.exports;
}

test('bad addresses have a status and a message', async () => {
  const m = await bare();
  const message = () => Buffer.from(m.memory.buffer, m.pronate_message(), m.pronate_message_length()).toString();
  const text = Buffer.from('{}');
  const at = m.pronate_alloc(16);
  Buffer.from(m.memory.buffer).set(text, at + 8);
  assert.equal(m.pronate_limb_from_spec(at + 8, text.length, at), 0);
  const limb = new BigUint64Array(m.memory.buffer, at, 1)[0];
  const room = m.pronate_alloc(12 * 8 * 4);
  const end = 2 ** 32;
  const layout = m.pronate_alloc(24);
  const lay = (...words) => (new Uint32Array(m.memory.buffer, layout, 6).set(words), layout);
  for (const [call, expected] of [
    [() => m.pronate_solve_f64(limb, 0, room, 0, 1), /dst is null/],
    [() => m.pronate_solve_f64(limb, room, 0, 0, 1), /joints is null/],
    [() => m.pronate_solve_f64(limb, 8, room, 0, 1), /dst is 8, expected an address in memory/],
    [() => m.pronate_solve_f64(limb, room, end - 8, 0, 1), /joints is 4294967288, expected an address in memory/],
    [() => m.pronate_solve_f64(limb, room + 4, room, 0, 1), /dst is \d+, expected an address that 8 divides/],
    [() => m.pronate_solve_f32(limb, room + 2, room, 0, 1), /expected an address that 4 divides/],
    [() => m.pronate_solve_f64(limb, room, room, 0, 7), /dst ends after/],
    [() => m.pronate_solve_f64(limb, room, room, 0, end - 1), /dst ends after/],
    [() => m.pronate_solve_layout_f64(limb, layout + 8, layout, 0, 1, 0), /dst is 16 bytes at \d+, expected 24/],
    [() => m.pronate_solve_layout_f64(limb, lay(room, room, 0, room, 4, 4), layout, 0, 1, 0), /dst->z is null/],
    [() => m.pronate_solve_layout_f64(limb, lay(room, room, room, room, 0, 4), layout, 0, 2, 0), /dst has stride 0/],
    [() => m.pronate_solve_layout_f64(limb, lay(room, room, room, room, 4, 0), layout, 0, 2, 0), /segment 0/],
    [() => m.pronate_solve_layout_f64(limb, lay(room, room, room, room, end - 1, end - 2), layout, 0, 2, 0), /dst ends after/],
    [() => m.pronate_solve_layout_f64(limb, lay(room, room, room, room, 1, 1), layout, 0, 1, at + 8), /outcome is 16 bytes/],
    [() => m.pronate_solve_layout_f64(limb, lay(room, room, room, room, 4, 4), layout, 0, 2, 0), /dst has stride 4 and segment 4, expected steps by which 2 poses of 2 segments do not overlap/],
    [() => m.pronate_limb_describe(limb, 0), /info is null/],
    [() => m.pronate_limb_describe(limb, at), /info is 592 bytes at \d+, expected 16 at most/],
    [() => m.pronate_from_rest(limb, 0, room, 0, room, 0), /anchor is null/],
    [() => m.pronate_from_rest(limb, room, at, 0, room, 0), /joint is 16 bytes at \d+, expected 32/],
    [() => m.pronate_from_rest(limb, room, room, at, room, 0), /tip is 16 bytes/],
    [() => m.pronate_from_rest(limb, room, room, 0, 0, 0), /out_joint is null/],
    [() => m.pronate_from_rest(limb, room, room, 0, room, at), /out_tip is 16 bytes/],
    [() => m.pronate_aim_f32(room, room, room, room, 1, 0), /axis/], // all 0
    [() => m.pronate_aim_f32(0, room, room, room, 1, 0), /axis is null/],
    [() => m.pronate_limb_from_spec(at, 17, at), /json is 17 bytes/],
    [() => m.pronate_limb_from_spec(at, 2, at + 12), /limb is 8 bytes/],
    [() => m.pronate_free_memory(room + 8), /expected one that pronate_alloc gave out/],
  ]) {
    assert.equal(call(), status.badArgument, `${call}: ${message()}`);
    assert.match(message(), expected, `${call}`);
  }
  assert.equal(m.pronate_free_memory(room), 0);
  assert.equal(m.pronate_solve_f64(limb, room, room, 0, 1), status.badArgument);
  assert.equal(m.pronate_alloc(2 ** 31), 0);
  assert.match(message(), /bytes asked for/);
  assert.equal(m.pronate_limb_segments(limb + 1n), status.badLimb);
  assert.equal(m.pronate_limb_free(0n), 0);
  assert.equal(message(), '');
});

test('calls at random do not stop the module', async () => {
  const m = await bare();
  let state = 1;
  const random = (below) => (state = (Math.imul(state, 1664525) + 1013904223) >>> 0) % below;
  const blocks = [];
  const limits = [0, 1, 7, 8, 64, 2 ** 16, 2 ** 31 - 1, 2 ** 31, 2 ** 32 - 1];
  const number = () => (random(3) ? limits[random(limits.length)] : random(200));
  const address = () => {
    if (blocks.length === 0 || random(4) === 0) return number();
    return blocks[random(blocks.length)] + [0, 0, 0, 4, 8, 1, -8, 1000, 4096][random(9)];
  };
  const size = () => 64 + random(2000); // what the test itself writes has room in all of them
  const limb = () => BigInt(random(3)) + (BigInt(random(3)) << 32n);
  const text = Buffer.from('{"segments": 3, "twist": "tip"}');
  const calls = [
    () => blocks.length < 40 && blocks.push(m.pronate_alloc(size()) >>> 0),
    () => {
      const at = address() >>> 0;
      const code = m.pronate_free_memory(at);
      if (code === 0) blocks.splice(blocks.indexOf(at) >>> 0, 1); // null is none of them
      return code;
    },
    () => {
      const at = blocks[0];
      if (at) Buffer.from(m.memory.buffer).set(text, at);
      return m.pronate_limb_from_spec(at, random(9) ? text.length : number(), address());
    },
    () => m.pronate_limb_segments(limb()),
    () => random(20) || m.pronate_limb_free(limb()),
    () => m.pronate_limb_describe(limb(), address()),
    () => m.pronate_from_rest(limb(), address(), address(), address(), address(), address()),
    ...['f32', 'f64'].flatMap((p) => [
      () => m[`pronate_solve_${p}`](limb(), address(), address(), address(), number()),
      () => m[`pronate_aim_${p}`](address(), address(), address(), address(), number(), address()),
      () => {
        const at = blocks[random(blocks.length)];
        if (at) {
          const words = [address(), address(), address(), address(), random(9), random(9)];
          words.forEach((w, i) => new DataView(m.memory.buffer).setUint32(at + 4 * i, w, true));
        }
        return m[`pronate_solve_layout_${p}`](limb(), at, at, at, number(), address());
      },
    ]),
  ];
  const seen = new Set();
  for (let i = 0; i < 50000; i++) seen.add(calls[random(calls.length)]());
  for (const code of [0, 1, 3, status.badArgument, status.badLimb]) assert.ok(seen.has(code), `never ${code}`);
  assert.ok(!seen.has(status.fault));
  assert.equal(m.pronate_version() >>> 16, 0);
});

test('and what comes after is right', () => {
  const { name, spec, n } = limbs[0];
  const batch = pronate.limb(spec).batch(n);
  batch.joints.set(read('joints', 'f32'));
  batch.tips.set(read('tips', 'f32'));
  batch.solve();
  assert.ok(isSame(batch.segments, read(name, 'f32')));
});
