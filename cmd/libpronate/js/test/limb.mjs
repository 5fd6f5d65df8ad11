// What a limb tells, and input made of rotations in the world.
import assert from 'node:assert/strict';
import test from 'node:test';
import { isSame, limbs, start } from './setup.mjs';

const pronate = await start();

test('info', () => {
  const { shares, tipShares, fingerprint, ...rest } = pronate
    .limb({ axis: [0, 0, 5], shares: [0, 0.25, 1], tip_shares: new Float32Array([1, 0.5, 0]) })
    .info();
  assert.deepEqual(rest, { segments: 3, field: 'shortest', hasRange: false, hasTip: true, axis: [0, 0, 1], centre: [0, 0, 1] });
  assert.deepEqual(shares, [0, 0.25, 1]);
  assert.deepEqual(tipShares, [1, 0.5, 0]);
  assert.equal(typeof fingerprint, 'bigint');
  const { field, hasRange, tipShares: none, segments } = pronate.limb(limbs.find((l) => l.name === 'least_roll').spec).info();
  assert.deepEqual([field, hasRange, none, segments], ['least_roll', true, null, 5]);
  assert.equal(pronate.limb(limbs.find((l) => l.name === 'balanced by default').spec).info().field, 'balanced');
  assert.equal(pronate.limb(limbs.find((l) => l.name === 'centre').spec).info().field, 'centred');
});

test("fingerprints are Go's, and all different", () => {
  const seen = limbs.map(({ spec }) => pronate.limb(spec).info().fingerprint);
  assert.deepEqual(seen, limbs.map(({ fingerprint }) => BigInt(`0x${fingerprint}`)));
  assert.equal(new Set(seen).size, limbs.length);
});

test('from rest', () => {
  const half = Math.SQRT1_2;
  const identity = new Float64Array([0, 0, 0, 1]);
  const limb = pronate.limb({ twist: 'tip', joint_rest: [half, 0, 0, half], tip_rest: [0, half, 0, half] });
  const close = (got, want) => got.forEach((x, i) => assert.ok(Math.abs(x - want[i]) < 4e-15, `${got}, expected ${want}`));
  const still = limb.fromRest([0, 0, 0, 2], [half, 0, 0, half], [0, half, 0, half]);
  close(still.joint, identity);
  close(still.tip, identity);
  // Turned about its own Y by a quarter, which at rest is the world's Z: so the quarter stands before the rest.
  close(limb.fromRest([0, 0, 0, 1], [0.5, 0.5, 0.5, 0.5], [0, half, 0, half]).joint, [0, half, 0, half]);
  assert.ok(Number.isNaN(limb.fromRest([0, 0, 0, NaN], [0, 0, 0, 1], [0, 0, 0, 1]).joint[0]));
  const own = pronate.limb().fromRest([0, 0, 0, 1], new Float32Array([0, 0, 1, 0]));
  assert.ok(isSame(own.tip, identity));
  close(own.joint, [0, 0, 1, 0]);
});
