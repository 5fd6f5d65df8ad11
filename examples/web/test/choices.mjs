// Every choice of the form does what it says.
import assert from 'node:assert/strict';

export async function run({ it, test }) {
  const { page } = it;
  const choose = async (name, value) => {
    await page.check(`input[name=${name}][value="${value}"]`);
    await it.idle();
    await it.drawn();
    return it.state();
  };
  const stage = () => page.locator('#stage').screenshot();

  await it.set({ limb: 0, segments: 4, joint: [-0.29, -0.41, 0.42, 0.75] }); // bent and twisted

  await test('segments are split anew and again', async () => {
    const seen = new Set();
    for (const n of [1, 2, 3, 5, 6, 4]) {
      const { segments, split, settings } = await choose('segments', n);
      assert.equal(settings.segments, n);
      if (n === 1) {
        assert.equal(split, null);
        assert.equal((await it.handles()).length, 1, 'one joint stands alone');
        assert.ok(await page.isDisabled('input[name=ramp][value=smooth]'));
        assert.match(await page.textContent('#ramps .why'), /One joint/);
        assert.equal((await it.state()).limb_file.match(/- name: /g).length, 5, 'and is left out of the limb file');
      } else {
        assert.equal(segments.length, n);
        assert.ok(!seen.has(split.narrowest), 'another number, another loss');
        seen.add(split.narrowest);
        assert.equal(await page.textContent('[data-n=split-name]'), `${n} segments`);
      }
    }
  });

  await test('a smooth ramp spares the ends', async () => {
    const linear = (await it.state()).twists_deg;
    const smooth = (await choose('ramp', 'smooth')).twists_deg;
    const step = (twists) => twists[1] - twists[0];
    assert.ok(step(smooth) < 0.9 * step(linear), `${smooth}; linear ${linear}`);
    assert.ok(Math.abs(smooth.at(-1) - linear.at(-1)) < 1e-9);
    await choose('ramp', 'linear');
  });

  await test('fields lead the bend by different ways', async () => {
    for (const [id, degrees] of [['joint-first', 80], ['joint-second', 40], ['joint-twist', 0]]) await page.fill(`#${id}`, String(degrees));
    await it.drawn();
    const roots = [];
    for (const field of ['shortest', 'centred', 'least_roll']) {
      const { twists_deg: twists, specification } = await choose('field', field);
      assert.equal(specification.field, field);
      roots.push(twists[0]);
    }
    assert.ok(Math.abs(roots[0]) < 1e-9, `the shortest arc's root turns by ${roots[0]} beyond the shortest arc`);
    assert.ok(Math.abs(roots[1]) > 1 && Math.abs(roots[2] - roots[1]) > 0.1, `roots turn by ${roots}`);
  });

  await test('dual quaternions keep the radius of a twist', async () => {
    for (const [id, degrees] of [['joint-first', 0], ['joint-second', 0], ['joint-twist', 90]]) await page.fill(`#${id}`, String(degrees));
    await it.drawn();
    const linear = await it.state(), dual = await choose('skinning', 'dual');
    assert.ok(dual.split.narrowest > linear.split.narrowest + 0.01, `${dual.split.narrowest}; linear ${linear.split.narrowest}`);
    assert.deepEqual(dual.segments, linear.segments, 'which is no matter of the solver');
    await choose('skinning', 'linear');
  });

  await test('colour and the picture of one joint can be had or not', async () => {
    const painted = await stage();
    await page.uncheck('input[name=colour]');
    await it.drawn();
    assert.notDeepEqual(await stage(), painted);
    await page.check('input[name=colour]');
    await it.drawn();
    assert.deepEqual(await stage(), painted, 'and back to the same picture');
    await page.uncheck('input[name=compare]');
    await it.drawn();
    assert.equal((await it.handles()).length, 1);
    assert.equal(await page.textContent('#labels'), '4 segments');
    await page.check('input[name=compare]');
  });

  await test('buttons look from elsewhere', async () => {
    await it.drawn();
    let before = JSON.stringify(await it.handles());
    for (const look of ['whole', 'left', 'right', 'limb']) {
      await page.click(`[data-look=${look}]`);
      await it.drawn();
      const now = JSON.stringify(await it.handles());
      assert.notEqual(now, before, look);
      before = now;
    }
  });

  await test('a forearm shares the hand’s twist', async () => {
    const value = await page.locator('#limb option').evaluateAll((all) => all.find((o) => o.textContent === 'left forearm').value);
    await page.selectOption('#limb', value);
    await it.idle();
    await page.fill('#tip-twist', '90');
    await it.drawn();
    const { limb, twists_deg: twists, split, one } = await it.state();
    assert.equal(limb, 'left forearm');
    [0, 30, 60, 90].forEach((degrees, i) => assert.ok(Math.abs(twists[i] - degrees) < 1e-9, `${twists}`));
    assert.ok(split.narrowest > one.narrowest + 0.1, `${split.narrowest}, with one joint ${one.narrowest}`);
    assert.ok(await page.isDisabled('input[name=field][value=balanced]'));
    assert.notEqual(await page.textContent('#fields .why'), '');
    await page.selectOption('#limb', '0');
    await it.idle();
    assert.ok(await page.isEnabled('input[name=field][value=balanced]'));
    assert.equal((await it.state()).angles.joint.twist, 90, 'a limb stays as it was left');
  });
}
