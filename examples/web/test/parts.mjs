// Parts of the page by themselves, and the script that builds it. Run in node.
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { warningsOf } from '../src/warnings.js';

export async function run({ folder, test }) {
  await test('build.sh replaces built pages and nothing else', () => refusesSources(folder));
  await test('a worker that has failed is not waited for', workerFails);
  await test('warnings are told once, in the words of pronate split', () => {
    const answer = { warnings: ['a', 'b'], limbs: [{ name: 'left thigh', weight_moved_max: 0.104 }] };
    const crowded = 'More than 10\u00a0% of a vertex’s weight moved, for want of influences: pronate split --influences 8 makes room.';
    assert.deepEqual(warningsOf(['c', 'a'], answer, answer.limbs[0]), ['warning: c', 'warning: a', 'warning: b', crowded]);
    assert.deepEqual(warningsOf([], { warnings: [] }, { name: 'left thigh', weight_moved_max: 0.1 }), []);
  });
}

// refusesSources tries folders that have some of what a built page has.
async function refusesSources(folder) {
  for (const [name, files] of Object.entries({ sources: ['index.html', 'main.js'], project: ['index.html', 'splitter.wasm', 'package.json'], other: ['splitter.wasm'] })) {
    const out = join(folder, name);
    await mkdir(out);
    for (const file of files) await writeFile(join(out, file), 'of somebody');
    const { status, stderr } = spawnSync('sh', [new URL('../build.sh', import.meta.url).pathname, out], { encoding: 'utf8' });
    assert.equal(status, 1, `${name}: exits with ${status}`);
    assert.equal(stderr, `build.sh: ${out}: holds something else than a built page, expected an empty folder or an older page\n`);
    for (const file of files) assert.ok(existsSync(join(out, file)), `${name}: ${file} is gone`);
  }
}

async function workerFails() {
  let worker = null;
  globalThis.Worker = class {
    constructor() {
      worker = this;
    }
    postMessage() {}
  };
  try {
    const { Splitter } = await import('../src/splitter.js');
    const splitter = new Splitter();
    const during = splitter.detect(1, 'a.glb', new Uint8Array());
    worker.onerror({ message: 'out of memory' });
    const expected = { message: 'the splitter failed (out of memory): reload the page' };
    await assert.rejects(during, expected);
    await assert.rejects(settled(splitter.split(1, [])), expected, 'nor later');
    await settled(splitter.forget(1));
    worker.onmessage({ data: { id: 1, answer: null } }); // too late, and no matter
  } finally {
    delete globalThis.Worker;
  }
}

// settled is a promise that has to be settled without anything more happening.
function settled(promise) {
  return Promise.race([promise, new Promise((_, reject) => setTimeout(() => reject(new Error('still waits')), 200))]);
}
