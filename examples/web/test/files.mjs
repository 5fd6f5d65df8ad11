// A character of one's own goes in, a limb file comes out.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';

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
    await page.check('input[name=segments][value="3"]');
    await it.idle();
    await load("climber's own.glb", shifted(wren, 2));
    assert.equal(await alert(), '');
    const { character, joint, split } = await it.state();
    assert.equal(character, "climber's own.glb");
    assert.deepEqual(joint, [0, 0, 0, 1], 'at rest');
    assert.equal(split.squeezed_m2, 0);
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

  await test('the limb file is taken away', async () => {
    for (const [name, value] of [['segments', '5'], ['ramp', 'smooth'], ['field', 'centred']]) {
      await page.check(`input[name=${name}][value="${value}"]`);
      await it.idle();
    }
    const [download] = await Promise.all([page.waitForEvent('download'), page.click('#take')]);
    assert.equal(download.suggestedFilename(), 'limbs.yaml');
    const text = await readFile(await download.path(), 'utf8');
    assert.equal(text, await page.textContent('#limb-file'), 'what is shown');
    assert.equal(text.match(/segments: 5/g).length, 6, 'for all limbs');
    assert.equal(text.match(/shares: smooth/g).length, 6);
    assert.equal(text.match(/^ *field: centred/gm).length, 4, 'for those whose range is known');
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
function shifted(glb, by) {
  const length = glb.readUInt32LE(12);
  const json = JSON.parse(glb.subarray(20, 20 + length));
  const scene = json.scenes[json.scene ?? 0];
  json.nodes.push({ name: 'ground', translation: [by, 0, 0], children: scene.nodes });
  scene.nodes = [json.nodes.length - 1];
  const text = Buffer.from(JSON.stringify(json));
  const padded = Buffer.concat([text, Buffer.alloc((4 - (text.length % 4)) % 4, ' ')]);
  const head = Buffer.alloc(20);
  const rest = glb.subarray(20 + length);
  glb.copy(head, 0, 0, 20);
  head.writeUInt32LE(20 + padded.length + rest.length, 8);
  head.writeUInt32LE(padded.length, 12);
  return Buffer.concat([head, padded, rest]);
}
