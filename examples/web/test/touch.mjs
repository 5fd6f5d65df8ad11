// The limb is turned by fingers, on a phone.
import assert from 'node:assert/strict';

export async function run({ it, test }) {
  const { page } = it;
  const fingers = await page.context().newCDPSession(page);
  const send = (type, ...points) => fingers.send('Input.dispatchTouchEvent', { type, touchPoints: points.map(([x, y], id) => ({ x, y, id })) });

  await test('a finger bends the limb by its dot', async () => {
    const [{ knob }] = await it.handles();
    const before = await it.state();
    await send('touchStart', [knob.x, knob.y]);
    await send('touchMove', [knob.x + 10, knob.y - 12]);
    await send('touchMove', [knob.x + 20, knob.y - 25]);
    await send('touchEnd');
    await it.drawn();
    const now = (await it.handles())[0].knob;
    assert.ok(Math.hypot(now.x - knob.x - 20, now.y - knob.y + 25) < 4, `the dot is at ${now.x - knob.x}, ${now.y - knob.y} of where it was`);
    const after = await it.state();
    assert.ok(Math.abs(after.angles.joint.twist - before.angles.joint.twist) < 1e-9);
    assert.notDeepEqual(after.joint, before.joint);
    assert.equal(await page.evaluate(() => scrollY), 0, 'and the page does not scroll');
  });

  await test('a finger on the ring twists it', async () => {
    const before = await it.state();
    const [{ ring }] = await it.handles();
    const front = ring.reduce((a, b) => (b.z < a.z ? b : a));
    await send('touchStart', [front.x, front.y]);
    await send('touchMove', [front.x - 15, front.y]);
    await send('touchMove', [front.x - 30, front.y]);
    await send('touchEnd');
    await it.drawn();
    const after = await it.state();
    assert.ok(Math.abs(after.angles.joint.twist - before.angles.joint.twist) > 10);
    assert.ok(Math.abs(after.angles.joint.first - before.angles.joint.first) < 1e-9);
  });

  await test('two fingers beside the limb come nearer', async () => {
    const before = await it.state();
    const [{ knob, ring }] = await it.handles();
    const box = await page.locator('#stage').boundingBox();
    const [left, top] = [box.x + 8, box.y + box.height - 12];
    const wide = (points) => Math.max(...points.map((p) => p.x)) - Math.min(...points.map((p) => p.x));
    await send('touchStart', [left, top], [left + 20, top - 4]);
    await send('touchMove', [left, top], [left + 60, top - 4]);
    await send('touchMove', [left, top], [left + 90, top - 4]);
    await send('touchEnd');
    await it.drawn();
    const [now] = await it.handles();
    assert.ok(wide(now.ring) > 1.1 * wide(ring), `the ring is ${wide(now.ring)} pixels wide, was ${wide(ring)}, the dot at ${knob.x}`);
    assert.deepEqual((await it.state()).joint, before.joint);
  });

  await test('the figure stays in sight above the controls', async () => {
    await page.locator('#fields').scrollIntoViewIfNeeded();
    await page.evaluate(() => document.querySelector('#fields').scrollIntoView({ block: 'end' }));
    const box = await page.locator('#stage').boundingBox();
    assert.ok(box.y >= 0 && box.y < 60, `the stage is at ${box.y}`);
  });
}
