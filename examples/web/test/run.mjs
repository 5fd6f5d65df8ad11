// Runs the tests of the page in a browser.
//
//   npm test                                     builds the page and tests it
//   PRONATE_PAGE=http://127.0.0.1:4870/ npm test tests the page that is served there
//   PRONATE_BINARY=path/to/pronate npm test      tries the exported limb file on it, too
//   PRONATE_PICTURES=folder npm test             keeps the screenshots
import { execFileSync } from 'node:child_process';
import { mkdir, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import * as access from './access.mjs';
import { launch, open, sizes } from './browser.mjs';
import * as choices from './choices.mjs';
import * as files from './files.mjs';
import * as hurry from './hurry.mjs';
import * as mirrored from './mirrored.mjs';
import * as numbers from './numbers.mjs';
import * as parts from './parts.mjs';
import * as pictures from './pictures.mjs';
import { serve } from './serve.mjs';
import * as skin from './skin.mjs';
import * as touch from './touch.mjs';
import * as turning from './turning.mjs';

const folder = await mkdtemp(join(tmpdir(), 'pronate-page-'));
const shots = resolve(process.env.PRONATE_PICTURES || join(folder, 'pictures'));
await mkdir(shots, { recursive: true });
execFileSync('go', ['run', './internal/fixture/forpage', folder], { cwd: new URL('../../..', import.meta.url) });
const server = process.env.PRONATE_PAGE ? null : await serve(join(folder, 'dist'));
const browser = await launch();
const binary = process.env.PRONATE_BINARY;
const url = process.env.PRONATE_PAGE || server.url;

let failed = 0;
try {
  await parts.run({ folder, test });
  await skin.run({ url, test });
  await mirrored.run({ url, folder, binary, test });
  await on('desktop', sizes.small, async (given) => {
    for (const tests of [turning, choices, numbers, hurry, files]) await tests.run(given);
    await numbers.tell(given);
  });
  await on('phone', sizes.phone, async (given) => {
    await pictures.run(given);
    await touch.run(given);
    await given.it.page.setViewportSize({ width: 360, height: 740 });
    await access.anywhere(given);
    await access.fingers(given);
  });
  await on('wide', sizes.desktop, async (given) => {
    await pictures.run(given);
    await access.anywhere(given);
    await access.keyboard(given);
  });
} finally {
  await browser.close();
  await server?.close();
  await rm(folder, { recursive: true, force: true });
}
console.log(failed ? `${failed} failed` : 'all passed');
process.exit(failed ? 1 : 0);

// on opens the page at a size, tests it, and looks at what it said meanwhile.
async function on(name, size, doing) {
  await test(`${name}: opens, and says nothing on the console`, async () => {
    const it = await open(browser, url, size);
    await doing({ it, url, folder, shots, binary, test, name });
    await it.close();
  });
}

async function test(name, doing) {
  try {
    const begun = performance.now();
    await doing();
    console.log(`ok    ${name} (${((performance.now() - begun) / 1000).toFixed(1)} s)`);
  } catch (error) {
    report(name, error);
  }
}

function report(name, error) {
  failed++;
  console.log(`FAIL  ${name}\n${error.stack}`);
}
