// The limb is turned by mouse, pen, sliders and keys.
import assert from 'node:assert/strict';

export async function run({ it, test }) {
  const { page } = it;

  await test('it begins with a limb that is turned', async () => {
    const { limb, angles, split, one } = await it.state();
    assert.equal(limb, 'left thigh');
    assert.equal(angles.joint.twist, 80);
    assert.ok(split.squeezed_m2 < one.squeezed_m2 / 2, `${split.squeezed_m2} m² squeezed, with one joint ${one.squeezed_m2}`);
  });

  for (const panel of [0, 1]) {
    await test(`the dot follows the mouse, panel ${panel + 1}`, async () => {
      const { knob } = (await it.handles())[panel];
      const before = await it.state();
      await page.mouse.move(knob.x + 3, knob.y - 2);
      await page.mouse.down();
      await page.mouse.move(knob.x + 20, knob.y - 20);
      await page.mouse.move(knob.x + 43, knob.y - 42, { steps: 4 });
      await page.mouse.up();
      await it.drawn();
      const now = (await it.handles())[panel].knob;
      assert.ok(Math.hypot(now.x - knob.x - 40, now.y - knob.y + 40) < 6, `the dot is at ${now.x - knob.x}, ${now.y - knob.y} of where it was, the mouse at 40, -40`);
      const after = await it.state();
      assert.ok(Math.abs(after.angles.joint.twist - before.angles.joint.twist) < 1e-9, 'the twist stays');
      assert.notDeepEqual(after.segments, before.segments);
      assert.equal(await page.inputValue('#joint-second'), String(Math.round(after.angles.joint.second)));
    });
  }

  await test('the skin can be dragged, the rest turns the view', async () => {
    await page.click('#reset');
    await it.drawn();
    const [{ knob }] = await it.handles();
    await drag(page, [knob.x, knob.y + 45], [knob.x + 30, knob.y + 30]); // the shin
    await it.drawn();
    const bent = await it.state();
    assert.ok(Math.hypot(bent.angles.joint.first, bent.angles.joint.second) > 3, 'dragging the shin bends the thigh');
    const box = await page.locator('#stage').boundingBox();
    const was = (await it.handles())[0].knob;
    await drag(page, [box.x + 12, box.y + 12], [box.x + 90, box.y + 30]);
    await it.drawn();
    assert.deepEqual((await it.state()).joint, bent.joint, 'dragging the background turns no limb');
    const now = (await it.handles())[0].knob;
    assert.ok(Math.hypot(now.x - was.x, now.y - was.y) > 5, 'but the view');
  });

  await test('the ring twists, and so does Shift', async () => {
    await page.click('#reset');
    await page.click('[data-look=limb]');
    await it.drawn();
    const [{ ring }] = await it.handles();
    const front = ring.reduce((a, b) => (b.z < a.z ? b : a));
    const k = ring.indexOf(front), ahead = ring[(k + 1) % ring.length];
    const sense = Math.sign(ahead.x - front.x); // which way a positive twist goes here
    await drag(page, [front.x, front.y], [front.x + 50 * sense, front.y]);
    await it.drawn();
    const { angles } = await it.state();
    assert.ok(angles.joint.twist > 20 && angles.joint.twist < 170, `${angles.joint.twist} degrees`);
    assert.ok(Math.abs(angles.joint.first) < 1e-9 && Math.abs(angles.joint.second) < 1e-9, 'and does not bend');
    const [{ knob }] = await it.handles();
    await page.keyboard.down('Shift');
    await drag(page, [knob.x, knob.y], [knob.x - 30 * sense, knob.y]);
    await page.keyboard.up('Shift');
    await it.drawn();
    assert.ok((await it.state()).angles.joint.twist < angles.joint.twist - 5, 'Shift twists back');
  });

  await test('a pen bends it', async () => {
    const before = await it.state();
    const [{ knob }] = await it.handles();
    const pen = await page.context().newCDPSession(page);
    const send = (type, x, y, buttons) => pen.send('Input.dispatchMouseEvent', { type, x, y, button: 'left', buttons, clickCount: 1, pointerType: 'pen' });
    await send('mousePressed', knob.x, knob.y, 1);
    await send('mouseMoved', knob.x + 30, knob.y - 10, 1);
    await send('mouseReleased', knob.x + 30, knob.y - 10, 0);
    await it.drawn();
    assert.notDeepEqual((await it.state()).joint, before.joint);
  });

  await test('sliders turn it by degrees', async () => {
    await page.click('#reset');
    for (const [id, degrees] of [['joint-first', 30], ['joint-twist', -60]]) await page.fill(`#${id}`, String(degrees));
    await it.drawn();
    const { angles, twists_deg: twists, joint, one, split } = await it.state();
    assert.deepEqual(angles.joint, { first: 30, second: 0, twist: -60 });
    assert.ok(Math.abs(Math.hypot(...joint) - 1) < 1e-12);
    // The joint's own twist is all there at the end, whatever the field makes of the root.
    assert.ok(Math.abs(twists.at(-1) + 60) < 1e-9, `${twists} degrees`);
    assert.equal(await page.textContent('output[for=joint-twist]'), '−60°');
    for (const { turn } of [one, split]) { // and so has the skin there, but for what the knee holds
      assert.ok(Math.abs((turn.at(-1) * 180) / Math.PI + 60) < 1, `the skin at the end has turned by ${turn.at(-1)} radians`);
    }
  });

  await test('two bends together stay below half a turn', async () => {
    await page.fill('#joint-first', '160');
    await page.fill('#joint-second', '100');
    await it.drawn();
    const { angles: { joint } } = await it.state();
    assert.equal(joint.second, 100);
    assert.ok(Math.abs(Math.hypot(joint.first, joint.second) - 160) < 1e-9, 'the other gives way');
  });

  await test('keys turn it, and the sliders follow', async () => {
    await page.focus('#stage');
    await page.keyboard.press('Home');
    for (const key of ['ArrowUp', 'ArrowUp', 'ArrowRight', 'Shift+ArrowRight', 'Shift+ArrowRight', 'Shift+ArrowLeft']) await page.keyboard.press(key);
    await it.drawn();
    assert.deepEqual((await it.state()).angles.joint, { first: 10, second: 5, twist: 5 });
    assert.equal(await page.inputValue('#joint-first'), '10');
    await page.keyboard.press('Home');
    await it.drawn();
    assert.deepEqual((await it.state()).joint, [0, 0, 0, 1]);
  });

  await test('at rest nothing is lost', async () => {
    const { one, split, twists_deg: twists } = await it.state();
    for (const figure of [one, split]) {
      assert.ok(figure.worst < 1e-6, `squeezed by ${figure.worst}; float32 in the file leaves some 1e-7 of a triangle`);
      assert.ok(Math.abs(figure.narrowest - 1) < 1e-6);
      assert.equal(figure.squeezed_m2, 0);
    }
    assert.ok(twists.every((x) => x === 0), `${twists}`);
  });
}

async function drag(page, [x, y], [toX, toY]) {
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move((x + toX) / 2, (y + toY) / 2);
  await page.mouse.move(toX, toY);
  await page.mouse.up();
}
