// Memory that grows, and memory that does not.
import assert from 'node:assert/strict';
import test from 'node:test';
import { bytes, isSame, limbs, read } from './setup.mjs';
import { load } from '../pronate.js';

// started is a module whose memory the test can see: load's own is private.
async function started() {
  let memory;
  const module = await WebAssembly.compile(bytes);
  const instantiate = WebAssembly.instantiate;
  WebAssembly.instantiate = async (...values) => {
    const instance = await instantiate(...values);
    memory = instance.exports.memory;
    return instance;
  };
  try {
    return { pronate: await load(module), memory };
  } finally {
    WebAssembly.instantiate = instantiate;
  }
}

test('arrays outlive growth', async () => {
  const { pronate, memory } = await started();
  const { name, spec, n } = limbs[0];
  const limb = pronate.limb(spec);
  const batch = limb.batch(n);
  const planes = limb.planes(n);
  batch.joints.set(read('joints', 'f32'));
  batch.tips.set(read('tips', 'f32'));
  planes.joints.y.fill(0.5);
  const [old, before] = [batch.joints, memory.buffer.byteLength];
  assert.equal(batch.joints, old); // nothing is made anew without need
  const large = limb.batch(1e6, Float64Array);
  assert.ok(memory.buffer.byteLength > before);
  assert.equal(old.length, 0);
  assert.ok(isSame(batch.joints, read('joints', 'f32')));
  assert.ok(planes.joints.y.every((y) => y === 0.5));
  batch.solve();
  assert.ok(isSame(batch.segments, read(name, 'f32')));
  large.joints.fill(1);
  large.tips.fill(1);
  assert.deepEqual(large.solve(), { undefined: 0, notFinite: 0 });
});

test('a hundred thousand calls leave memory as it is', async () => {
  const { pronate, memory } = await started();
  const limb = pronate.limb({ segments: 4 });
  const batch = limb.batch(100);
  batch.joints.fill(0.5);
  const work = (times) => {
    for (let i = 0; i < times; i++) {
      batch.solve(1 + (i % 100));
      limb.batch(64).free();
      if (i % 50 === 0) pronate.limb({ segments: 3 }).free();
      if (i % 50 === 1) assert.throws(() => batch.solve(101));
      if (i % 50 === 2) assert.throws(() => pronate.limb({ segments: 99 }));
    }
  };
  work(10000); // until the collector has found its pace
  const before = memory.buffer.byteLength;
  work(100000);
  assert.equal(memory.buffer.byteLength, before);
});
