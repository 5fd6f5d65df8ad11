// The same bits as Go's, in every precision and layout.
import assert from 'node:assert/strict';
import test from 'node:test';
import { aims, isSame, limbs, precisions, read, start } from './setup.mjs';

const pronate = await start();

test('isSame tells bits apart', () => {
  assert.ok(isSame(new Float32Array([1, NaN]), new Float32Array([1, NaN])));
  assert.ok(!isSame(new Float32Array([0]), new Float32Array([-0])));
  assert.ok(!isSame(new Float64Array([1]), new Float64Array([1 + Number.EPSILON])));
});

for (const [precision, Numbers] of Object.entries(precisions)) {
  for (const { name, spec, n, segments, outcome } of limbs) {
    const [joints, tips, want] = ['joints', 'tips', name].map((file) => read(file, precision));

    test(`${name}, ${precision}, side by side`, () => {
      const limb = pronate.limb(spec);
      assert.equal(limb.segments, segments);
      const batch = limb.batch(n, Numbers);
      batch.joints.set(joints);
      batch.tips.set(tips);
      assert.deepEqual(batch.solve(), outcome[precision]);
      assert.ok(isSame(batch.segments, want));
      batch.segments.fill(7);
      const some = n >> 1;
      batch.solve(some);
      assert.ok(isSame(batch.segments.subarray(0, 4 * segments * some), want.subarray(0, 4 * segments * some)));
      assert.ok(batch.segments.subarray(4 * segments * some).every((x) => x === 7));
      batch.free();
      limb.free();
    });

    test(`${name}, ${precision}, planes`, () => {
      const limb = pronate.limb(spec);
      const batch = limb.planes(n + 3, Numbers); // planes longer than what is solved
      for (let j = 0; j < n; j++) {
        [...'xyzw'].forEach((c, k) => {
          batch.joints[c][j] = joints[4 * j + k];
          batch.tips[c][j] = tips[4 * j + k];
        });
      }
      assert.deepEqual(batch.solve(n), outcome[precision]);
      const got = new Numbers(want.length);
      for (let j = 0; j < n; j++) {
        for (let i = 0; i < segments; i++) {
          [...'xyzw'].forEach((c, k) => (got[4 * (segments * j + i) + k] = batch.segments[c][i * batch.capacity + j]));
        }
      }
      assert.ok(isSame(got, want));
      batch.free();
      limb.free();
    });
  }

  for (const { name, axis, n, outcome } of aims) {
    test(`${name}, ${precision}`, () => {
      const batch = pronate.aim(axis, n, Numbers);
      batch.frames.set(read('joints', precision));
      batch.targets.set(read('targets', precision));
      assert.deepEqual(batch.solve(), outcome[precision]);
      assert.ok(isSame(batch.aimed, read(name, precision)));
      assert.ok(isSame(batch.frames, read('joints', precision)));
      batch.free();
    });
  }
}
