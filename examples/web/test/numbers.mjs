// The page's numbers against others': the solver's in node, bit for bit, and the
// losses that `pronate check` measures in Go with code of its own.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { load } from '../../../cmd/libpronate/js/pronate.js';

// What is left of Wren's left thigh at a twist of 90 degrees, in per cent: the table in
// the repository's README, which `pronate check` measured.
const table = { one: [82.1, 89.6], 2: [70.6, 99.6], 3: [92.4, 99.5], 4: [96.4, 99.5], 5: [97.3, 99.5] };

export async function run({ it, url, folder, binary, test }) {
  const served = async (name) => Buffer.from(await (await fetch(new URL(name, url))).arrayBuffer());
  const pronate = await load(await served('pronate.wasm'));
  const solve = (specification, joint, tip) => {
    const limb = pronate.limb(specification);
    const batch = limb.batch(1, Float64Array);
    batch.joints.set(joint);
    batch.tips.set(tip);
    batch.solve(1);
    const out = Array.from({ length: limb.segments }, (_, i) => Array.from(batch.segments.subarray(4 * i, 4 * i + 4)));
    batch.free();
    limb.free();
    return out;
  };
  const same = (a, b) => {
    assert.equal(a.length, b.length);
    a.forEach((q, i) => q.forEach((x, k) => assert.ok(x === b[i][k], `segment ${i}: ${q}, expected ${b[i]}`)));
  };
  const rotations = [[0.1, -0.4, 0.2, 0.8], [-0.5, 0.3, 0.6, -0.2], [1e-9, 2e-9, -3e-9, 1], [3, 4, -5, 6]];

  await test('segments are those of the solver in node, to the last bit', async () => {
    for (const settings of [{ limb: 0, segments: 4, field: 'least_roll' }, { field: 'centred', segments: 5, ramp: 'smooth' }, { limb: 2, field: 'shortest', ramp: 'linear' }, { limb: 5, segments: 3 }]) {
      await it.set(settings);
      for (const [i, joint] of rotations.entries()) {
        const tip = rotations[(i + 1) % rotations.length];
        const { segments, specification, joint: used } = await it.set({ joint, tip });
        assert.deepEqual(used, joint, 'the rotation goes in as it is');
        same(segments, solve(specification, joint, tip));
      }
    }
  });

  await test('so are those of any specification', async () => {
    const specification = { axis: [0.2, -0.9, 0.1], shares: [0, 0.1, 0.7], tip_shares: [0, 0.5, 1], field: 'centred', centre: [0.6, -0.8, 0] };
    for (const joint of rotations) {
      const got = await it.page.evaluate(([s, q]) => window.pronatePage.solve(s, q, [0, 0, 0.6, 0.8]), [specification, joint]);
      same(got, solve(specification, joint, [0, 0, 0.6, 0.8]));
    }
  });

  await test('losses are those that pronate check measures', async () => {
    await it.set({ limb: 0, field: 'least_roll', ramp: 'linear' });
    await it.page.click('#reset');
    await it.page.fill('#joint-twist', '90');
    const rounding = 0.05 + 1e-9; // of the table
    for (const [k, skinning] of ['linear', 'dual'].entries()) {
      for (const n of [2, 3, 4, 5]) {
        const { one, split } = await it.set({ skinning, segments: n });
        for (const [figure, part] of [[split, table[n][k]], [one, table.one[k]]]) {
          assert.ok(Math.abs(100 * figure.narrowest - part) <= rounding, `${skinning}, ${n} segments: ${100 * figure.narrowest} %, expected ${part}`);
        }
      }
    }
    await it.set({ skinning: 'linear' });
  });

  await test('with two segments half the twist is lost at a round limb’s middle', async () => {
    // Two joints 90 degrees apart, blended half and half: a radius of cos 45 degrees.
    const { split } = await it.set({ segments: 2 });
    assert.ok(Math.abs(split.narrowest - Math.SQRT1_2) < 0.005, `${split.narrowest}`);
  });

  if (binary) {
    await test('losses are those of this binary’s check, too', async () => {
      await writeFile(join(folder, 'wren.glb'), await served('wren.glb'));
      const report = JSON.parse(check(binary, join(folder, 'wren.glb')));
      const { one, split } = await it.set({ segments: 4 });
      for (const [segments, { narrowest }] of [[1, one], [4, split]]) {
        const found = report.tradeoff.filter((row) => row.limb === 'left thigh' && row.segments === segments);
        assert.equal(found.length, 1, `the left thigh with ${segments} in the report`);
        assert.ok(Math.abs(found[0].minimum_radius - narrowest) < 1e-6, `${segments}: ${narrowest}, expected ${found[0].minimum_radius}`);
      }
    });
  }
}

// tell says what frames have cost. It is told and not tested.
export async function tell({ it }) {
  const { frames } = await it.state();
  console.log(`      solve, skin twice, measure, paint and draw curves: ${frames.median.toFixed(1)} ms, median of ${Math.min(frames.count, 512)} frames`);
}

// check exits with 1 where a limb does not hold.
function check(binary, character) {
  try {
    return execFileSync(binary, ['check', character, '--json'], { encoding: 'utf8', maxBuffer: 1 << 28 });
  } catch (error) {
    if (error.stdout) return error.stdout;
    throw error;
  }
}
