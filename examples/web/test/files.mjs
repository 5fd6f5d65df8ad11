// A character of one's own goes in, a limb file comes out.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { edited } from './glb.mjs';

export async function run({ it, url, folder, binary, test }) {
  const { page } = it;
  const wren = Buffer.from(await (await fetch(new URL('wren.glb', url))).arrayBuffer());
  const load = async (name, buffer) => {
    await page.setInputFiles('#own', { name, mimeType: 'model/gltf-binary', buffer });
    await page.waitForFunction(() => document.querySelector('#own').files.length === 0); // it has been read
    await it.idle();
    await it.drawn();
  };
  const alert = () => page.textContent('#alert');

  await test('a file that is none gives an alert and changes nothing', async () => {
    const before = await it.state();
    for (const [name, bytes] of [['garbage.glb', Buffer.from('no character at all')], ['half.glb', wren.subarray(0, wren.length / 2)], ['empty.glb', Buffer.alloc(0)]]) {
      await load(name, bytes);
      assert.match(await alert(), new RegExp(`^${name}: .+$`), 'one line that names the file');
      const { frames: _, ...after } = await it.state();
      const { frames: __, ...was } = before;
      assert.deepEqual(after, was);
    }
    await page.focus('#stage');
    await page.keyboard.press('ArrowUp');
    await it.drawn();
    assert.equal((await it.state()).angles.joint.first, before.angles.joint.first + 5, 'the limb still turns');
  });

  await test('a character of one’s own takes the place', async () => {
    await load("climber's own.glb", shifted(wren, 2));
    assert.equal(await alert(), '');
    const { character, angles } = await it.state();
    assert.equal(character, "climber's own.glb");
    assert.equal(Math.round(angles.joint.twist), 80, 'turned, for at rest there is nothing to see');
    assert.equal(await page.textContent('#own-said'), "Shown: climber's own.glb, 6 limbs.");
    await page.click('#reset');
    await it.drawn();
    assert.equal((await it.state()).split.squeezed_m2, 0, 'nothing is lost at rest');
    assert.match(await page.getAttribute('#stage', 'aria-label'), /climber's own/);
    assert.equal(await page.textContent('#command'), `pronate split 'climber'\\''s own.glb' --limbs limbs.yaml -o 'climber'\\''s own-split.glb'`);
    await page.fill('#joint-twist', '90');
    await it.drawn();
    const { split: turned } = await it.state();
    assert.ok(Math.abs(turned.narrowest - 0.924) < 0.001, `as Wren has it: ${turned.narrowest}`);
  });

  await test('a file can be dropped', async () => {
    await page.evaluate(async () => {
      const transfer = new DataTransfer();
      transfer.items.add(new File([await (await fetch('wren.glb')).arrayBuffer()], 'dropped.glb'));
      for (const kind of ['dragover', 'drop']) document.querySelector('h1').dispatchEvent(new DragEvent(kind, { dataTransfer: transfer, bubbles: true, cancelable: true }));
    });
    await page.waitForFunction(() => window.pronatePage.state().character === 'dropped.glb', null, { timeout: 20_000 });
    await it.idle();
    assert.equal(await alert(), '');
  });

  await test('a folder that is dropped gives an alert', async () => {
    const client = await page.context().newCDPSession(page);
    const data = { items: [], files: [folder], dragOperationsMask: 1 };
    for (const type of ['dragEnter', 'dragOver', 'drop']) await client.send('Input.dispatchDragEvent', { type, x: 200, y: 200, data });
    await page.waitForFunction(() => document.querySelector('#alert').textContent);
    assert.match(await alert(), /^pronate-page-\w+: cannot be read \(.+\), expected a \.glb file$/);
    assert.equal((await it.state()).character, 'dropped.glb', 'the one before stays');
  });

  await test('a first character that is not there gives an alert', async () => {
    const other = await page.context().newPage();
    await other.route('**/wren.glb', (route) => route.fulfill({ status: 404, body: 'not here' }));
    await other.goto(url);
    await other.waitForFunction(() => document.querySelector('#alert').textContent);
    assert.equal(await other.textContent('#alert'), 'wren.glb: cannot be read (404 Not Found), expected a .glb file');
    await other.close();
  });

  await test('what to look at twice is told below the picture', async () => {
    const moved = 'More than 10\u00a0% of a vertex’s weight moved, for want of influences: pronate split --influences 8 makes room.';
    const shown = () => page.locator('#warnings li').allTextContents();
    assert.deepEqual(await shown(), [moved], 'what pronate split says of Wren');
    await load('giant.glb', edited(wren, (json) => {
      const scene = json.scenes[json.scene ?? 0];
      json.nodes.push({ name: 'ground', scale: [100, 100, 100], children: scene.nodes });
      scene.nodes = [json.nodes.length - 1];
    }));
    assert.equal(await alert(), '');
    assert.deepEqual(await shown(), ['warning: the character is 170 m tall: glTF lengths are metres; read lengths accordingly', moved]);
  });

  await test('characters that are left give back what the graphics card held', async () => {
    const held = [];
    for (let i = 0; i < 3; i++) {
      await load(`painted-${i}.glb`, painted(wren));
      for (const colour of [false, true]) {
        await it.set({ segments: 4 + i, colour });
        await it.drawn();
      }
      held.push(await page.evaluate(() => ({ ...window.heldByGraphics })));
    }
    assert.ok(held[0].buffers > 10 && held[0].textures > 2, JSON.stringify(held));
    assert.deepEqual(held[2], held[1], 'another character, and no more is held');
    await load('dropped.glb', wren);
  });

  await test('limbs that are left as they are can be split all the same', async () => {
    await load('coarse.glb', await readFile(join(folder, 'coarse.glb')));
    assert.equal(await alert(), '');
    const { settings, split, limb_file: none } = await it.state();
    assert.deepEqual([settings.segments, split, none], [1, null, '']);
    assert.match(await page.textContent('#limb-why'), /^By default this limb is left as it is: .+\. Choose 2 or more/);
    assert.match((await page.locator('#limb option').allTextContents())[0], / \(left as it is\)$/);
    assert.ok(await page.isDisabled('#take'));
    await page.check('input[name=segments][value="3"]');
    await it.idle();
    assert.equal((await it.state()).segments.length, 3);
    assert.equal((await page.textContent('#limb-file')).match(/- name: /g).length, 1, 'the one that was asked for');
    await load('dropped.glb', wren);
    assert.match(await page.textContent('#limb-why'), /^By default this limb is split: most gained at /);
  });

  await test('the limb file is taken away', async () => {
    for (const [name, value] of [['segments', '5'], ['ramp', 'smooth'], ['field', 'centred']]) {
      await page.check(`input[name=${name}][value="${value}"]`);
      await it.idle();
    }
    const [download] = await Promise.all([page.waitForEvent('download'), page.click('#take')]);
    assert.equal(download.suggestedFilename(), 'limbs.yaml');
    const text = await readFile(await download.path(), 'utf8');
    assert.equal(text, await page.textContent('#limb-file'), 'what is shown');
    assert.equal(text.match(/- name: /g).length, 6, 'all limbs that are split');
    for (const setting of [/segments: 5/g, /shares: smooth/g, /^ *field: centred/gm]) assert.equal(text.match(setting).length, 1, `${setting}: the limb that is shown`);
    assert.match(text, /^resolved: true/m, 'so that nothing is measured again');
    if (!binary) return;
    const paths = ['dropped.glb', 'limbs.yaml', 'dropped-split.glb'].map((name) => join(folder, name));
    await writeFile(paths[0], wren);
    await writeFile(paths[1], text);
    execFileSync(binary, ['split', paths[0], '--limbs', paths[1], '-o', paths[2]]);
    assert.ok((await readFile(paths[2])).length > wren.length);
  });
}

// shifted is the same character whose root stands elsewhere, with a joint for the move:
// another file, of the same limbs.
const shifted = (glb, by) => edited(glb, (json) => {
  const scene = json.scenes[json.scene ?? 0];
  json.nodes.push({ name: 'ground', translation: [by, 0, 0], children: scene.nodes });
  scene.nodes = [json.nodes.length - 1];
});

// painted is the same character with an image on its skin: one texel of orange.
const painted = (glb) => edited(glb, (json) => {
  const png = 'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mP8z8DwHwAFBQIAX8jx0gAAAABJRU5ErkJggg==';
  json.images = [{ uri: `data:image/png;base64,${png}` }];
  json.textures = [{ source: 0 }];
  for (const material of json.materials) material.pbrMetallicRoughness = { ...material.pbrMetallicRoughness, baseColorTexture: { index: 0 } };
});
